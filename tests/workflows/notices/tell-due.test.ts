import { TZDate } from '@date-fns/tz';
import { addDays, addHours, subDays, subHours } from 'date-fns';
import { beforeEach, describe, expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import { afterQuietHours } from '@/lib/domain/notices/quiet-hours';
import { dateOfDay, dayIn, dayOfDate, type Day } from '@/lib/domain/people/age';
import { tellDue } from '@/lib/workflows/tell-due';
import {
  bornAged,
  buildCoach,
  buildLead,
  buildLedgerEntry,
  buildLesson,
  buildMember,
  buildPlayer,
  buildProgram,
} from '../../support/build';
import { buildAssignment, buildDrill } from '../../support/build-practice';
import { fakePorts } from '../../support/fake-ports';

const system = asSystem('worker');
const ZONE = 'America/Chicago';
/** Noon of today in Chicago, around which the checks of the builders hold: no quiet hours. */
const NOON = atHour(12);

function atHour(hour: number): Date {
  const day = new TZDate(Date.now(), ZONE);
  return new Date(new TZDate(day.getFullYear(), day.getMonth(), day.getDate(), hour, 0, 0, ZONE).getTime());
}

/** A minor with a guardian, a coach, a coach without checks and a lead; a clock at noon. */
async function academy() {
  const program = await buildProgram({ timeZone: ZONE });
  const coach = await buildCoach(program);
  await buildCoach(program, { isCleared: false });
  const lead = await buildLead(program);
  const player = await buildPlayer(program, { birthDate: bornAged(15, NOON) });
  // Without the consent that comes with a guardian of the builders: the tests bring theirs.
  const guardian = await buildMember(program, ['guardian']);
  await prisma.guardianship.create({
    data: { guardianId: guardian.id, playerId: player.id, verifiedAt: NOON },
  });
  const lesson = (promisedAt: Date, submittedAt = subHours(promisedAt, 48)) =>
    buildLesson(program, player, { state: 'in_review', coachId: coach.id, promisedAt, submittedAt });
  return { program, coach, lead, player, guardian, lesson };
}

const told = async (program: { id: string }, kind: string) =>
  (
    await prisma.notice.findMany({
      where: { programId: program.id, kind },
      select: { personId: true },
      orderBy: { personId: 'asc' },
    })
  ).map((one) => one.personId);
/** One round of the worker: how many notices it brought to this program. Those of other tests have theirs. */
async function round(ports: ReturnType<typeof fakePorts>, program: { id: string }): Promise<number> {
  const where = { programId: program.id };
  const before = await prisma.notice.count({ where });
  await tellDue(ports, system);
  return (await prisma.notice.count({ where })) - before;
}
const ids = (...people: { id: string }[]) => people.map((one) => one.id).sort();

beforeEach(async () => {
  await prisma.notice.deleteMany();
  await prisma.outboxMail.deleteMany();
});

describe('a promise', () => {
  test('that is near is told to its coach, and to nobody else; a far one to nobody', async () => {
    const { program, coach, lesson } = await academy();
    await lesson(addHours(NOON, 5));
    await lesson(addHours(NOON, 7));
    expect(await round(fakePorts(NOON), program)).toBe(1);
    expect(await told(program, 'promise-near')).toEqual([coach.id]);
    expect(await told(program, 'promise-missed')).toEqual([]);
  });

  test('that was near when the lesson was sent is not told as near', async () => {
    const { program, lesson } = await academy();
    await lesson(addHours(NOON, 3), subHours(NOON, 1));
    await tellDue(fakePorts(NOON), system);
    expect(await told(program, 'promise-near')).toEqual([]);
  });

  test('of a minor’s lesson that nobody has goes to leads and to coaches whose checks hold', async () => {
    const { program, coach, lead, player } = await academy();
    await buildLesson(program, player, {
      state: 'submitted',
      promisedAt: addHours(NOON, 5),
      submittedAt: subHours(NOON, 40),
    });
    await tellDue(fakePorts(NOON), system);
    expect(await told(program, 'promise-near')).toEqual(ids(coach, lead));
  });

  test('that was missed is told to the coach, the player and the guardian', async () => {
    const { program, coach, player, guardian, lesson } = await academy();
    await lesson(subHours(NOON, 1));
    await tellDue(fakePorts(NOON), system);
    expect(await told(program, 'promise-missed')).toEqual(ids(coach, player, guardian));
  });

  test('that was missed weeks ago, or was kept, is not told', async () => {
    const { program, coach, player, lesson } = await academy();
    await lesson(subDays(NOON, 20));
    await buildLesson(program, player, {
      state: 'returned',
      coachId: coach.id,
      promisedAt: subHours(NOON, 1),
    });
    expect(await round(fakePorts(NOON), program)).toBe(0);
  });

  test('is told once by two workers and by any number of rounds, and again for a new time', async () => {
    const { program, coach, lesson } = await academy();
    const { id } = await lesson(addHours(NOON, 5));
    const ports = fakePorts(NOON);
    await Promise.all([tellDue(ports, system), tellDue(ports, system), tellDue(ports, system)]);
    ports.later(600_000);
    expect(await round(ports, program)).toBe(0);
    expect(await told(program, 'promise-near')).toEqual([coach.id]);
    expect(await prisma.outboxMail.count({ where: { kind: 'promise-near', programId: program.id } })).toBe(1);
    await prisma.lesson.update({ where: { id }, data: { promisedAt: addHours(NOON, 5.5) } });
    expect(await round(ports, program)).toBe(1);
  });

  test('missed in the evening: the minor hears of it in the morning, the guardian and the coach at once', async () => {
    const { coach, player, guardian, lesson } = await academy();
    const evening = atHour(21);
    await lesson(subHours(evening, 1));
    await tellDue(fakePorts(evening), system);
    const shown = new Map(
      (await prisma.notice.findMany({ where: { kind: 'promise-missed' } })).map((one) => [
        one.personId,
        one.shownFrom.toISOString(),
      ]),
    );
    expect(shown.get(player.id)).toBe(afterQuietHours(evening, ZONE).toISOString());
    expect(shown.get(player.id)).not.toBe(evening.toISOString());
    expect(shown.get(guardian.id)).toBe(evening.toISOString());
    expect(shown.get(coach.id)).toBe(evening.toISOString());
  });
});

describe('a swing that was asked for', () => {
  const today = dayIn(ZONE, NOON);
  const daysAgo = dayOfDate(subDays(dateOfDay(today), 2));
  async function asked(swingBy: Day, more: { pausedAt?: Date } = {}) {
    const here = await academy();
    const lesson = await buildLesson(here.program, here.player, {
      state: 'returned',
      coachId: here.coach.id,
    });
    const drill = await buildDrill(here.program);
    const assignment = await buildAssignment(lesson, here.player, drill, {
      swingBy: dateOfDay(swingBy),
      ...more,
    });
    return { ...here, lesson, assignment, drill };
  }

  test('is not overdue on its day; the day after, both sides hear of it, once for all its drills', async () => {
    const { program, coach, player, guardian, lesson, drill } = await asked(today);
    await buildAssignment(lesson, player, drill, { swingBy: dateOfDay(today), position: 1 });
    const ports = fakePorts(NOON);
    expect(await round(ports, program)).toBe(0);
    ports.later(24 * 3_600_000);
    await tellDue(ports, system);
    await tellDue(ports, system);
    expect(await told(program, 'swing-overdue')).toEqual(ids(coach, player, guardian));
  });

  test('is not missed while practice is paused, nor once it has come', async () => {
    const paused = await asked(daysAgo, { pausedAt: NOON });
    const came = await asked(daysAgo);
    await buildLesson(came.program, came.player, { state: 'submitted', answersId: came.assignment.id });
    await tellDue(fakePorts(NOON), system);
    expect(await told(paused.program, 'swing-overdue')).toEqual([]);
    expect(await told(came.program, 'swing-overdue')).toEqual([]);
  });
});

describe('a payment', () => {
  test('is told to who pays: three days before, and once more when it is late; never once it is paid', async () => {
    const { program, lead, player, guardian } = await academy();
    const lesson = await buildLesson(program, player, { state: 'returned', startedById: guardian.id });
    await buildLedgerEntry(lesson, lead, { dueAt: addDays(NOON, 4) });
    const ports = fakePorts(NOON);
    const lates = async () =>
      (
        await prisma.notice.findMany({
          where: { programId: program.id, kind: 'payment-due' },
          orderBy: { at: 'asc' },
        })
      ).map((one) => [one.personId, (one.data as { isLate: boolean }).isLate]);
    expect(await round(ports, program)).toBe(0);
    ports.later(36 * 3_600_000);
    await tellDue(ports, system);
    await tellDue(ports, system);
    expect(await lates()).toEqual([[guardian.id, false]]);
    ports.later(72 * 3_600_000);
    await tellDue(ports, system);
    expect(await lates()).toEqual([
      [guardian.id, false],
      [guardian.id, true],
    ]);
    await buildLedgerEntry(lesson, lead, { kind: 'payment', amountMinor: 4500 });
    await prisma.notice.deleteMany();
    expect(await round(ports, program)).toBe(0);
  });
});

describe('a consent', () => {
  const consent = (
    here: Awaited<ReturnType<typeof academy>>,
    byId: string,
    inDays: number,
    scope = 'lessons',
  ) =>
    prisma.consent.create({
      data: {
        id: crypto.randomUUID(),
        programId: here.program.id,
        playerId: here.player.id,
        byId,
        scope,
        version: '2026-11',
        method: 'account-page',
        givenAt: subDays(NOON, 300),
        expiresAt: addDays(NOON, inDays),
      },
    });

  test('that ends within a month is told to who gave it; within a week once more, and to the staff', async () => {
    const here = await academy();
    await consent(here, here.guardian.id, 29);
    const ports = fakePorts(NOON);
    await tellDue(ports, system);
    expect(await told(here.program, 'consent-expiring')).toEqual([here.guardian.id]);
    ports.later(24 * 24 * 3_600_000);
    await tellDue(ports, system);
    await tellDue(ports, system);
    expect(await told(here.program, 'consent-expiring')).toEqual(
      ids(here.guardian, here.guardian, here.coach, here.lead),
    );
  });

  test('that was given anew, was taken back, or is a former guardian’s is not told', async () => {
    const here = await academy();
    await consent(here, here.guardian.id, 5);
    await prisma.consent.create({
      data: {
        id: crypto.randomUUID(),
        programId: here.program.id,
        playerId: here.player.id,
        byId: here.guardian.id,
        scope: 'lessons',
        version: '2026-11',
        method: 'account-page',
        givenAt: NOON,
        expiresAt: addDays(NOON, 365),
      },
    });
    const back = await consent(here, here.guardian.id, 5, 'share');
    await prisma.consent.update({ where: { id: back.id }, data: { withdrawnAt: NOON } });
    await consent(here, here.lead.id, 5, 'example');
    expect(await round(fakePorts(NOON), here.program)).toBe(0);
  });

  test('of a guardian whose ward has come of age is not told', async () => {
    const here = await academy();
    await consent(here, here.guardian.id, 5);
    await prisma.person.update({ where: { id: here.player.id }, data: { birthDate: bornAged(19, NOON) } });
    expect(await round(fakePorts(NOON), here.program)).toBe(0);
  });
});

test('nothing is told to somebody in another program', async () => {
  const [here, far] = [await academy(), await academy()];
  await here.lesson(subHours(NOON, 1));
  await tellDue(fakePorts(NOON), system);
  expect(await prisma.notice.count({ where: { programId: far.program.id } })).toBe(0);
  expect(await prisma.notice.count({ where: { programId: here.program.id } })).toBe(3);
});
