import { addHours } from 'date-fns';
import ICAL from 'ical.js';
import { describe, expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import { hasCalendar } from '@/lib/data/calendar.read';
import { closeCalendar } from '@/lib/workflows/close-calendar';
import { openCalendar } from '@/lib/workflows/open-calendar';
import { readCalendar } from '@/lib/workflows/read-calendar';
import {
  buildCoach,
  buildGuardian,
  buildLead,
  buildLesson,
  buildPlayer,
  buildProgram,
} from '../../support/build';
import { fakePorts } from '../../support/fake-ports';
import { viewerOf } from '../../support/viewers';

const system = asSystem('worker');
const siteUrl = 'https://cage.example.org';
const ports = fakePorts();

const lessonsIn = async (secret: string) => {
  const text = await readCalendar(ports, system, { secret, siteUrl });
  const calendar = new ICAL.Component(ICAL.parse(text) as unknown[]);
  return calendar
    .getAllSubcomponents('vevent')
    .map((event) => new ICAL.Event(event).uid.replace('@cagepost', ''))
    .sort();
};
const open = async (person: { id: string }, program: { id: string }) =>
  (await openCalendar(ports, await viewerOf(person, program))).secret;

async function academy() {
  const program = await buildProgram();
  const coach = await buildCoach(program);
  const child = await buildPlayer(program, { age: 15, name: 'Wren Sample' });
  await buildGuardian(program, [child]);
  const adult = await buildPlayer(program, { age: 30 });
  const own = await buildLesson(program, child, { state: 'in_review', coachId: coach.id });
  const open = await buildLesson(program, adult, {
    state: 'submitted',
    promisedAt: addHours(new Date(), 2),
  });
  const other = await buildCoach(program);
  await buildLesson(program, child, { state: 'in_review', coachId: other.id });
  await buildLesson(program, child, { state: 'returned', coachId: coach.id });
  await buildLesson(program, child, { state: 'draft' });
  return { program, coach, child, adult, own, open };
}

describe('a coach’s calendar', () => {
  test('holds what they have and what nobody has, nothing of others, of other programs, or returned', async () => {
    const { program, coach, own, open: free } = await academy();
    await academy();
    const secret = await open(coach, program);
    expect(await lessonsIn(secret)).toEqual([own.id, free.id].sort());
    expect(await readCalendar(ports, system, { secret, siteUrl })).not.toContain('Wren');
  });

  test('is kept by a hash only, and ends when it is replaced or ended', async () => {
    const { program, coach } = await academy();
    const viewer = await viewerOf(coach, program);
    expect(await hasCalendar(viewer)).toBe(false);
    const first = await open(coach, program);
    expect(await hasCalendar(viewer)).toBe(true);
    const { calendarKey } = await prisma.person.findUniqueOrThrow({ where: { id: coach.id } });
    expect(calendarKey).toMatch(/^[0-9a-f]{64}$/);
    const second = await open(coach, program);
    await expect(lessonsIn(first)).rejects.toMatchObject({ fault: 'not-found' });
    expect(await lessonsIn(second)).toHaveLength(2);
    await closeCalendar(viewer);
    await expect(lessonsIn(second)).rejects.toMatchObject({ fault: 'not-found' });
    expect(await hasCalendar(viewer)).toBe(false);
    for (const secret of ['', 'none', calendarKey!])
      await expect(lessonsIn(secret)).rejects.toMatchObject({ fault: 'not-found' });
  });

  test('holds no minor’s lesson while the checks do not hold; a lead’s holds them', async () => {
    const { program, coach, own, open: free } = await academy();
    const lead = await buildLead(program, { isCleared: false });
    const secret = await open(coach, program);
    await prisma.clearance.updateMany({ where: { personId: coach.id }, data: { revokedAt: new Date() } });
    expect(await lessonsIn(secret)).toEqual([free.id]);
    await prisma.lesson.update({ where: { id: own.id }, data: { coachId: null, state: 'submitted' } });
    expect(await lessonsIn(await open(lead, program))).toEqual([own.id, free.id].sort());
  });

  test('ends with the place in the program', async () => {
    const { program, coach } = await academy();
    const secret = await open(coach, program);
    await prisma.membership.deleteMany({ where: { personId: coach.id } });
    await expect(lessonsIn(secret)).rejects.toMatchObject({ fault: 'not-found' });
  });

  test('is refused to players and guardians', async () => {
    const { program, child } = await academy();
    await expect(open(child, program)).rejects.toMatchObject({ fault: 'not-found' });
  });
});
