import { accountOf, type Account } from '@/lib/domain/billing/ledger';
import type { PersonRef } from '@/lib/domain/lessons/lesson';
import type { LessonState } from '@/lib/domain/lessons/state';
import type { ConsentTerms } from '@/lib/domain/consents/consent';
import { dateOfDay, dayIn } from '@/lib/domain/people/age';
import { minorsAreBornAfter } from '@/lib/domain/people/safeguarding';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { ClipId, LessonId, PersonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { Prisma } from './generated/client';
import { consentOf, lessonConsents } from './lesson-consents';
import { ledgerFacts, personRef, toBirthDate, toPerson } from './select';
import { lessonsVisibleTo } from './visibility';

export const DESK_FILTERS = ['mine', 'open', 'all', 'care', 'returned'] as const;
export type DeskFilter = (typeof DESK_FILTERS)[number];

/** One row of the desk. */
export interface DeskRow {
  id: LessonId;
  number: number;
  state: LessonState;
  player: PersonRef & { birthDate: string | null };
  guardians: { verifiedAt: Date | null; pausedAt: Date | null; consent: ConsentTerms | null }[];
  coach: PersonRef | null;
  question: string;
  painLevel: number | null;
  painWhere: string | null;
  submittedAt: Date | null;
  promisedAt: Date | null;
  returnedAt: Date | null;
  follows: { number: number; submittedAt: Date | null; fixFirst: string | null } | null;
  posterClipId: ClipId | null;
  clipsReady: number;
  clipsFailed: number;
  clipCount: number;
  currency: string;
  account: Account;
  isSeen: boolean;
}

const WAITING = { state: { in: ['submitted', 'in_review'] } } satisfies Prisma.LessonWhereInput;

const whereOf = (viewer: Viewer, filter: DeskFilter, { now, careIds }: Moment): Prisma.LessonWhereInput => {
  const weekAgo = new Date(now.getTime() - 7 * 24 * 3600_000);
  switch (filter) {
    case 'mine':
      return { ...WAITING, coachId: viewer.personId };
    case 'open':
      return { ...WAITING, coachId: null };
    case 'all':
      return WAITING;
    case 'care':
      return { ...WAITING, id: { in: careIds ?? [] } };
    case 'returned':
      return { state: { in: ['returned', 'closed'] }, returnedAt: { gte: weekAgo } };
  }
};

/** When it is asked, and which waiting lessons need care then; null when nobody asked for that. */
interface Moment {
  now: Date;
  careIds: string[] | null;
}

/**
 * The waiting lessons of the program that `careReasons` has something to say about. By hand: as one condition of the
 * desk's query the planner reads every person of the program for it.
 */
async function careOf(viewer: Viewer, now: Date): Promise<string[]> {
  const { timeZone } = await prisma.program.findUniqueOrThrow({
    where: { id: viewer.programId },
    select: { timeZone: true },
  });
  // Somebody comes of age on the program's own day. An unknown birth date is treated as a minor's.
  const today = dayIn(timeZone, now);
  const minorAfter = dateOfDay(minorsAreBornAfter(today));
  // The latest consent to lessons of each verified guardian.
  const latest = Prisma.sql`(SELECT DISTINCT ON (given."byId") given."withdrawnAt", given."expiresAt" FROM "Consent" given
    JOIN "Guardianship" g ON g."guardianId" = given."byId" AND g."playerId" = given."playerId"
    WHERE given."playerId" = player.id AND given."programId" = ${viewer.programId}::uuid
      AND given.scope = 'lessons' AND g."verifiedAt" IS NOT NULL
    ORDER BY given."byId", given."givenAt" DESC) c`;
  const rows = await prisma.$queryRaw<{ id: string }[]>`
    SELECT lesson.id FROM "Lesson" lesson
    JOIN "Thread" thread ON thread.id = lesson."threadId"
    JOIN "Person" player ON player.id = thread."playerId"
    WHERE lesson."programId" = ${viewer.programId}::uuid AND lesson.state IN ('submitted', 'in_review')
      AND (lesson."painLevel" > 0
        OR EXISTS (SELECT 1 FROM "Clip" clip
          WHERE clip."lessonId" = lesson.id AND clip."removedAt" IS NULL AND clip.state = 'failed')
        OR ((player."birthDate" IS NULL OR player."birthDate" > ${minorAfter}::date)
          AND (NOT EXISTS (SELECT 1 FROM "Guardianship" g
              WHERE g."playerId" = player.id AND g."verifiedAt" IS NOT NULL)
            OR EXISTS (SELECT 1 FROM "Guardianship" g
              WHERE g."playerId" = player.id AND g."pausedAt" IS NOT NULL)
            OR NOT EXISTS (SELECT 1 FROM ${latest} WHERE c."withdrawnAt" IS NULL
              AND (c."expiresAt" IS NULL OR (c."expiresAt" AT TIME ZONE 'UTC')::date > ${dateOfDay(today)}::date))
            OR EXISTS (SELECT 1 FROM ${latest} WHERE c."withdrawnAt" IS NOT NULL))))`;
  return rows.map(({ id }) => id);
}

/**
 * The desk of a coach or lead: what waits, in order of promise (returned lessons: latest first), at most `take` rows
 * after `cursor`. Empty for anybody who is not staff. `find` looks in the player's name and the question.
 */
export async function readDesk(
  viewer: Viewer,
  query: { filter: DeskFilter; now: Date; find?: string; take?: number; after?: LessonId },
): Promise<{ rows: DeskRow[]; hasMore: boolean }> {
  if (!isStaff(viewer)) return { rows: [], hasMore: false };
  const take = query.take ?? 50;
  const find = query.find?.trim();
  const matches: Prisma.LessonWhereInput = find
    ? {
        OR: [
          { question: { contains: find, mode: 'insensitive' } },
          { thread: { player: { name: { contains: find, mode: 'insensitive' } } } },
        ],
      }
    : {};
  const careIds = query.filter === 'care' ? await careOf(viewer, query.now) : null;
  const rows = await prisma.lesson.findMany({
    where: {
      AND: [lessonsVisibleTo(viewer), whereOf(viewer, query.filter, { now: query.now, careIds }), matches],
    },
    select: {
      id: true,
      number: true,
      state: true,
      question: true,
      painLevel: true,
      painWhere: true,
      submittedAt: true,
      promisedAt: true,
      returnedAt: true,
      currency: true,
      coach: { select: personRef },
      program: { select: { currency: true } },
      thread: {
        select: {
          player: {
            select: {
              ...personRef,
              birthDate: true,
              guardians: { select: { guardianId: true, verifiedAt: true, pausedAt: true } },
              consents: lessonConsents(viewer.programId),
            },
          },
        },
      },
      follows: {
        select: {
          number: true,
          submittedAt: true,
          returns: { select: { fixFirst: true }, orderBy: { number: 'desc' }, take: 1 },
        },
      },
      clips: { where: { removedAt: null }, select: { id: true, state: true }, orderBy: { position: 'asc' } },
      ledger: { select: ledgerFacts },
      views: { select: { lastSeenAt: true } },
    },
    orderBy:
      query.filter === 'returned'
        ? [{ returnedAt: 'desc' }, { id: 'asc' }]
        : [{ promisedAt: 'asc' }, { id: 'asc' }],
    take: take + 1,
    ...(query.after ? { cursor: { id: query.after }, skip: 1 } : {}),
  });
  return { rows: rows.slice(0, take).map(toRow), hasMore: rows.length > take };

  function toRow(row: (typeof rows)[number]): DeskRow {
    return {
      id: row.id as LessonId,
      number: row.number ?? 0,
      state: row.state,
      player: { ...toPerson(row.thread.player), birthDate: toBirthDate(row.thread.player.birthDate) },
      guardians: row.thread.player.guardians.map(({ guardianId, ...one }) => ({
        ...one,
        consent: consentOf(row.thread.player.consents, guardianId),
      })),
      coach: row.coach && toPerson(row.coach),
      question: row.question,
      painLevel: row.painLevel,
      painWhere: row.painWhere,
      submittedAt: row.submittedAt,
      promisedAt: row.promisedAt,
      returnedAt: row.returnedAt,
      follows: row.follows && {
        number: row.follows.number ?? 0,
        submittedAt: row.follows.submittedAt,
        fixFirst: row.follows.returns[0]?.fixFirst ?? null,
      },
      posterClipId: (row.clips.find((clip) => clip.state === 'ready')?.id ?? null) as ClipId | null,
      clipsReady: row.clips.filter((clip) => clip.state === 'ready').length,
      clipsFailed: row.clips.filter((clip) => clip.state === 'failed').length,
      clipCount: row.clips.length,
      currency: row.currency ?? row.program.currency,
      account: accountOf(row.ledger),
      isSeen: row.views.some((view) => row.returnedAt !== null && view.lastSeenAt >= row.returnedAt),
    };
  }
}

/** How many lessons each filter of the desk holds. Zeros for anybody who is not staff. */
export async function countDesk(viewer: Viewer, now: Date): Promise<Record<DeskFilter, number>> {
  if (!isStaff(viewer)) return { mine: 0, open: 0, all: 0, care: 0, returned: 0 };
  const moment = { now, careIds: await careOf(viewer, now) };
  const counts = await Promise.all(
    DESK_FILTERS.map((filter) =>
      prisma.lesson.count({ where: { AND: [lessonsVisibleTo(viewer), whereOf(viewer, filter, moment)] } }),
    ),
  );
  const [mine = 0, open = 0, all = 0, care = 0, returned = 0] = counts;
  return { mine, open, all, care, returned };
}

/** The viewer's latest finished reviews, for the pace of the evening line. */
export async function listOwnReviewTimes(viewer: Viewer): Promise<{ takenAt: Date; returnedAt: Date }[]> {
  if (!isStaff(viewer)) return [];
  const rows = await prisma.lesson.findMany({
    where: { AND: [lessonsVisibleTo(viewer), { coachId: viewer.personId, returnedAt: { not: null } }] },
    select: {
      returnedAt: true,
      events: { where: { kind: 'taken' }, select: { at: true }, orderBy: { at: 'desc' }, take: 1 },
    },
    orderBy: { returnedAt: 'desc' },
    take: 30,
  });
  return rows.flatMap((row) =>
    row.returnedAt && row.events[0] ? [{ takenAt: row.events[0].at, returnedAt: row.returnedAt }] : [],
  );
}

/** The coaches and leads of the viewer's program, for handing a lesson over. Empty for anybody who is not staff. */
export async function listCoaches(viewer: Viewer): Promise<PersonRef[]> {
  if (!isStaff(viewer)) return [];
  const rows = await prisma.person.findMany({
    where: { memberships: { some: { programId: viewer.programId, role: { in: ['coach', 'lead'] } } } },
    select: personRef,
    orderBy: { name: 'asc' },
  });
  return rows.map(toPerson);
}

/** The next lesson on the viewer's own desk after the given one, to go straight on; null when the desk is clear. */
export async function readNextOnDesk(
  viewer: Viewer,
  done: LessonId,
): Promise<{ id: LessonId; playerId: PersonId } | null> {
  if (!isStaff(viewer)) return null;
  const row = await prisma.lesson.findFirst({
    where: {
      AND: [
        lessonsVisibleTo(viewer),
        WAITING,
        { id: { not: done }, OR: [{ coachId: viewer.personId }, { coachId: null }] },
      ],
    },
    select: { id: true, thread: { select: { playerId: true } } },
    orderBy: [{ promisedAt: 'asc' }, { id: 'asc' }],
  });
  return row && { id: row.id as LessonId, playerId: row.thread.playerId as PersonId };
}
