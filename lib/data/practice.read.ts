import type { CheckInFacts, Given } from '@/lib/domain/drills/given';
import { doseSchema } from '@/lib/domain/drills/dose';
import type { AssignmentId } from '@/lib/domain/drills/drill';
import { SAFETY_VERSION } from '@/lib/domain/drills/practice';
import type { PersonRef } from '@/lib/domain/lessons/lesson';
import { dateOfDay, dayOfDate, type Day } from '@/lib/domain/people/age';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { db, prisma, type Tx } from './client';
import { drillFacts, toDrill } from './drill-select';
import { toPerson, personRef } from './select';
import { assignmentsVisibleTo, playersVisibleTo } from './visibility';

const DAY_MS = 86_400_000;

type CheckInRow = Omit<CheckInFacts, 'day'> & { assignmentId: string; day: Date };

// By hand: of a nested list Prisma reads every row and takes the first of them afterwards.
const newestCheckIns = (assignmentIds: string[], tx?: Tx) =>
  db(tx).$queryRaw<CheckInRow[]>`
    SELECT newest.id, "assignmentId", day, "setsDone", "repsDone", feel, note, "painLevel", "painWhere"
    FROM unnest(${assignmentIds}::uuid[]) given (id) CROSS JOIN LATERAL (SELECT * FROM "CheckIn"
      WHERE "assignmentId" = given.id ORDER BY day DESC, at DESC LIMIT 100) newest
    ORDER BY day DESC, at DESC`;

/**
 * The drills given to a player, or with one lesson, newest lesson first: ended ones too with a lesson, else only those
 * that go on. With the newest hundred check-ins of each. Empty when they are not the viewer's to see.
 */
export async function listGiven(
  viewer: Viewer,
  of: { playerId: PersonId } | { lessonId: LessonId },
  tx?: Tx,
): Promise<Given[]> {
  const rows = await db(tx).assignment.findMany({
    where: {
      AND: [
        'lessonId' in of ? { lessonId: of.lessonId } : { playerId: of.playerId, endedAt: null },
        assignmentsVisibleTo(viewer),
      ],
    },
    select: {
      id: true,
      dose: true,
      cue: true,
      swingBy: true,
      givenAt: true,
      pausedAt: true,
      pauseReason: true,
      endedAt: true,
      drill: { select: drillFacts },
      player: { select: { ...personRef, bats: true } },
      lesson: { select: { id: true, number: true } },
      swings: { where: { submittedAt: { not: null } }, select: { id: true }, take: 1 },
    },
    orderBy: [{ givenAt: 'desc' }, { position: 'asc' }],
    take: 50,
  });
  const checkIns = await newestCheckIns(
    rows.map(({ id }) => id),
    tx,
  );
  return rows.map(({ lesson, swings, ...row }) => ({
    ...row,
    id: row.id as unknown as AssignmentId,
    dose: doseSchema.parse(row.dose),
    swingBy: row.swingBy && dayOfDate(row.swingBy),
    pauseReason: row.pauseReason === 'said-cleared' ? 'said-cleared' : row.pauseReason ? 'pain' : null,
    drill: toDrill(row.drill),
    player: { ...toPerson(row.player), bats: row.player.bats },
    lesson: { id: lesson.id as LessonId, number: lesson.number ?? 0 },
    hasSwing: swings.length > 0,
    checkIns: checkIns.flatMap(({ assignmentId, ...one }) =>
      assignmentId === row.id ? [{ ...one, day: dayOfDate(one.day) }] : [],
    ),
  }));
}

/**
 * Swings that were asked for by a day before `today` and have not come, oldest first, at most fifty. Nothing is asked of
 * a player whose practice is paused. For staff; empty for anybody else.
 */
export async function listOverdueSwings(
  viewer: Viewer,
  today: Day,
  tx?: Tx,
): Promise<{ id: AssignmentId; lessonId: LessonId; player: PersonRef; swingBy: Day }[]> {
  if (!isStaff(viewer)) return [];
  const rows = await db(tx).assignment.findMany({
    where: {
      AND: [
        {
          swingBy: { lt: dateOfDay(today) },
          endedAt: null,
          pausedAt: null,
          swings: { none: { submittedAt: { not: null } } },
        },
        assignmentsVisibleTo(viewer),
      ],
    },
    select: { id: true, swingBy: true, lessonId: true, player: { select: personRef } },
    orderBy: [{ swingBy: 'asc' }, { id: 'asc' }],
    take: 50,
  });
  return rows.flatMap(({ id, swingBy, lessonId, player }) =>
    swingBy
      ? [
          {
            id: id as unknown as AssignmentId,
            lessonId: lessonId as LessonId,
            player: toPerson(player),
            swingBy: dayOfDate(swingBy),
          },
        ]
      : [],
  );
}

/** A drill that was given, with the days on which swings of it were reported; instants as they were noted. */
export interface PractisedDrill {
  title: string;
  givenAt: Date;
  endedAt: Date | null;
  pausedAt: Date | null;
  daysAWeek: number;
  days: Day[];
}

/**
 * What a player practised from `from` to `until` (days, both included), oldest first, and whether anything was given
 * before that. Empty when it is not the viewer's to see.
 */
export async function listPractised(
  viewer: Viewer,
  playerId: PersonId,
  { from, until }: { from: Day; until: Day },
): Promise<{ drills: PractisedDrill[]; hasEarlier: boolean }> {
  // A day more on either side: where a day begins is the reader's zone.
  const start = new Date(dateOfDay(from).getTime() - DAY_MS);
  const end = new Date(dateOfDay(until).getTime() + 2 * DAY_MS);
  const mine = { AND: [{ playerId }, assignmentsVisibleTo(viewer)] };
  const [rows, first] = await Promise.all([
    prisma.assignment.findMany({
      where: {
        ...mine,
        givenAt: { lt: end },
        OR: [{ endedAt: null }, { endedAt: { gte: start } }],
      },
      select: {
        dose: true,
        givenAt: true,
        endedAt: true,
        pausedAt: true,
        drill: { select: { title: true } },
        checkIns: {
          where: { repsDone: { gt: 0 }, day: { gte: dateOfDay(from), lte: dateOfDay(until) } },
          select: { day: true },
        },
      },
      orderBy: [{ givenAt: 'asc' }, { position: 'asc' }],
      take: 200,
    }),
    prisma.assignment.findFirst({
      where: { ...mine, givenAt: { lt: dateOfDay(from) } },
      select: { id: true },
    }),
  ]);
  return {
    drills: rows.map(({ dose, drill, checkIns, ...row }) => ({
      ...row,
      title: drill.title,
      daysAWeek: doseSchema.parse(dose).daysAWeek,
      days: checkIns.map(({ day }) => dayOfDate(day)),
    })),
    hasEarlier: first !== null,
  };
}

/** Whether somebody of the player's side confirmed practice safety as it reads now, and which adult is present. */
export async function readPracticeSafety(
  viewer: Viewer,
  playerId: PersonId,
  tx?: Tx,
): Promise<{ at: Date; adult: string | null } | null> {
  return db(tx).practiceSafety.findFirst({
    where: { playerId, version: SAFETY_VERSION, player: playersVisibleTo(viewer) },
    select: { at: true, adult: true },
  });
}
