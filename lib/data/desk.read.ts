import {
  DESK_FILTERS,
  MOST_COUNTED,
  type DeskCursor,
  type DeskFilter,
  type DeskQuery,
} from '@/lib/domain/desk/desk-query';
import type { PersonRef } from '@/lib/domain/lessons/lesson';
import { isLead, isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import type { Prisma } from './generated/client';
import { careIdsOf } from './desk-care';
import { deskSelect, toDeskRow, type DeskRow } from './desk-select';
import { idsMatching, WAITING, whereAfter, whereOfList, whereOfQuery } from './desk-where';
import { personRef, toBirthDate, toPerson } from './select';
import { lessonsVisibleTo } from './visibility';

/** The waiting lessons of the program that need care. Empty for anybody who is not staff. */
export async function listCare(viewer: Viewer, now: Date): Promise<LessonId[]> {
  if (!isStaff(viewer)) return [];
  const rows = await prisma.lesson.findMany({
    where: { AND: [{ id: { in: await careIdsOf(viewer, now) } }, lessonsVisibleTo(viewer)] },
    select: { id: true },
  });
  return rows.map((row) => row.id as LessonId);
}

/** What `listCare` answers, or will: only the list and the count of what needs care wait for it. */
type CareIds = readonly LessonId[] | Promise<readonly LessonId[]>;

/**
 * The desk of a coach or lead: what waits, in order of promise (returned lessons: latest first), at most `take` rows
 * after a cursor, narrowed as the query says. Empty for anybody who is not staff. `careIds` is what `listCare` answers;
 * the list of what needs care is made of it.
 */
export async function readDesk(
  viewer: Viewer,
  {
    now,
    careIds,
    take = 50,
    after,
    ...query
  }: DeskQuery & { now: Date; careIds?: CareIds; take?: number; after?: DeskCursor | null },
): Promise<{ rows: DeskRow[]; next: DeskCursor | null }> {
  if (!isStaff(viewer)) return { rows: [], next: null };
  const { filter } = query;
  const find = query.find?.trim();
  const [care, found] = await Promise.all([
    filter === 'care' ? (careIds ?? listCare(viewer, now)) : [],
    find ? idsMatching(viewer, filter, find, now) : null,
  ]);
  const rows = await prisma.lesson.findMany({
    where: {
      AND: [
        lessonsVisibleTo(viewer),
        whereOfList(viewer, filter, { now, careIds: care }),
        whereOfQuery(viewer, query, now),
        found ? { id: { in: found } } : {},
        after ? whereAfter(filter, after) : {},
      ],
    },
    select: deskSelect(viewer.programId),
    orderBy: orderOf(filter),
    take: take + 1,
  });
  const page = rows.slice(0, take);
  const authors = await prisma.person.findMany({
    where: { id: { in: page.flatMap((row) => row.handOvers.map((one) => one.byId)) } },
    select: personRef,
  });
  const people = new Map(authors.map((person) => [person.id, toPerson(person)]));
  const last = page.at(-1);
  const at = filter === 'returned' ? last?.returnedAt : last?.promisedAt;
  return {
    rows: page.map((row) => toDeskRow(row, people)),
    next: rows.length > take && last && at ? { at, id: last.id as LessonId } : null,
  };
}

const orderOf = (filter: DeskFilter): Prisma.LessonOrderByWithRelationInput[] =>
  filter === 'returned' ? [{ returnedAt: 'desc' }, { id: 'desc' }] : [{ waitsUntil: 'asc' }, { id: 'asc' }];

/** How many lessons each list of the desk holds, `MOST_COUNTED` at most. Zeros for anybody who is not staff. */
export async function countDesk(
  viewer: Viewer,
  now: Date,
  careIds?: CareIds,
): Promise<Record<DeskFilter, number>> {
  if (!isStaff(viewer)) return { mine: 0, open: 0, all: 0, care: 0, returned: 0 };
  const lists = DESK_FILTERS.filter((filter) => filter !== 'care');
  const [care, counts] = await Promise.all([
    careIds ?? listCare(viewer, now),
    Promise.all(
      lists.map((filter) =>
        prisma.lesson.count({
          where: { AND: [lessonsVisibleTo(viewer), whereOfList(viewer, filter, { now, careIds: [] })] },
          // Along the list's own index: unsorted, `take` would first sort all there are by their id.
          orderBy: orderOf(filter),
          take: MOST_COUNTED,
        }),
      ),
    ),
  ]);
  const [mine = 0, open = 0, all = 0, returned = 0] = counts;
  return { mine, open, all, care: Math.min(care.length, MOST_COUNTED), returned };
}

/** The promises of what waits for the viewer, nearest first, 60 at most: for the evening line. */
export async function listOwnPromises(viewer: Viewer): Promise<{ lessonId: LessonId; promisedAt: Date }[]> {
  if (!isStaff(viewer)) return [];
  const rows = await prisma.lesson.findMany({
    where: {
      AND: [lessonsVisibleTo(viewer), { ...WAITING, coachId: viewer.personId }],
    },
    select: { id: true, promisedAt: true },
    orderBy: [{ waitsUntil: 'asc' }, { id: 'asc' }],
    take: 60,
  });
  return rows.flatMap(({ id, promisedAt }) => (promisedAt ? [{ lessonId: id as LessonId, promisedAt }] : []));
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

/** A waiting lesson as it is shown where lessons are given out. */
export interface WaitingLesson {
  id: LessonId;
  number: number;
  player: PersonRef & { birthDate: string | null };
  question: string;
  coach: PersonRef | null;
  promisedAt: Date;
}

const MOST_GIVEN_OUT = 50;

/**
 * For leads: those of the lessons that nobody has begun on, nearest promise first, 50 at most; with null those that
 * nobody has. Empty for anybody else.
 */
export async function listToGiveOut(
  viewer: Viewer,
  ids: readonly LessonId[] | null,
): Promise<WaitingLesson[]> {
  if (!isLead(viewer)) return [];
  const rows = await prisma.lesson.findMany({
    where: {
      AND: [
        lessonsVisibleTo(viewer),
        { state: 'submitted', promisedAt: { not: null } },
        ids ? { id: { in: [...ids] } } : { coachId: null },
      ],
    },
    select: {
      id: true,
      number: true,
      question: true,
      promisedAt: true,
      coach: { select: personRef },
      thread: { select: { player: { select: { ...personRef, birthDate: true } } } },
    },
    orderBy: [{ promisedAt: 'asc' }, { id: 'asc' }],
    take: MOST_GIVEN_OUT,
  });
  return rows.flatMap(({ thread: { player }, promisedAt, coach, ...row }) =>
    promisedAt
      ? [
          {
            id: row.id as LessonId,
            number: row.number ?? 0,
            question: row.question,
            player: { ...toPerson(player), birthDate: toBirthDate(player.birthDate) },
            coach: coach && toPerson(coach),
            promisedAt,
          },
        ]
      : [],
  );
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
    orderBy: [{ waitsUntil: 'asc' }, { id: 'asc' }],
  });
  return row && { id: row.id as LessonId, playerId: row.thread.playerId as PersonId };
}
