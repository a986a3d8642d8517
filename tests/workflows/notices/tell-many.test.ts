import { addDays, subDays, subHours } from 'date-fns';
import { expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import { AT_ONCE } from '@/lib/data/keyset';
import { dateOfDay, dayIn } from '@/lib/domain/people/age';
import { tellDue } from '@/lib/workflows/tell-due';
import {
  buildCoach,
  buildLedgerEntry,
  buildLead,
  buildLesson,
  buildPlayer,
  buildProgram,
} from '../../support/build';
import { buildConsent } from '../../support/build-care';
import { buildAssignment, buildDrill } from '../../support/build-practice';
import { fakePorts } from '../../support/fake-ports';

const ZONE = 'UTC';
const NOON = new Date(`${dayIn(ZONE, new Date())}T12:00:00Z`);

// More than is looked up at once, and all of it due at the same moment, so that nothing but the ids puts it in order.
test('however much is due in a program, all of it is told in the first round and nothing in the second', async () => {
  const program = await buildProgram({ timeZone: ZONE });
  const coach = await buildCoach(program);
  const lead = await buildLead(program);
  const drill = await buildDrill(program);
  const many = AT_ONCE + 20;
  for (let n = 0; n < many; n++) {
    const player = await buildPlayer(program, { age: 30 });
    const promisedAt = subHours(NOON, 1);
    const submittedAt = subDays(NOON, 2);
    await buildLesson(program, player, { state: 'in_review', coachId: coach.id, promisedAt, submittedAt });
    const lesson = await buildLesson(program, player, { state: 'returned', coachId: coach.id });
    await buildAssignment(lesson, player, drill, { swingBy: dateOfDay(dayIn(ZONE, subDays(NOON, 1))) });
    await buildLedgerEntry(lesson, lead, { dueAt: addDays(NOON, 1) });
    await buildConsent(program, player, player, { scope: 'share', expiresAt: addDays(NOON, 20) });
  }
  const ports = fakePorts(NOON);
  await tellDue(ports, asSystem('worker'));
  const told = await prisma.notice.groupBy({
    by: ['kind'],
    where: { programId: program.id },
    _count: true,
    orderBy: { kind: 'asc' },
  });
  // Of promises and swings the coach and the player hear, of payments and consents the player.
  expect(Object.fromEntries(told.map((one) => [one.kind, one._count]))).toEqual({
    'consent-expiring': many,
    'payment-due': many,
    'promise-missed': 2 * many,
    'swing-overdue': 2 * many,
  });
  await tellDue(ports, asSystem('worker'));
  expect(await prisma.notice.count({ where: { programId: program.id } })).toBe(6 * many);
}, 60_000);
