import type { DeskCursor, DeskFilter, DeskQuery } from '@/lib/domain/desk/desk-query';
import { dateOfDay } from '@/lib/domain/people/age';
import type { Viewer } from '@/lib/domain/people/viewer';
import { prisma } from './client';
import { Prisma } from './generated/client';
import { textQuery } from './text-query';

/** What waits for a coach. By its own column: a state as a parameter could not use the index that only holds these. */
export const WAITING = { waitsUntil: { not: null } } satisfies Prisma.LessonWhereInput;

const WEEK_MS = 7 * 24 * 3_600_000;
const weekBefore = (now: Date) => new Date(now.getTime() - WEEK_MS);

/** The lessons of one list of the desk; `careIds` are those that need care, for the list of that name. */
export function whereOfList(
  viewer: Viewer,
  filter: DeskFilter,
  { now, careIds }: { now: Date; careIds: readonly string[] },
): Prisma.LessonWhereInput {
  switch (filter) {
    case 'mine':
      return { ...WAITING, coachId: viewer.personId };
    case 'open':
      return { ...WAITING, coachId: null };
    case 'all':
      return WAITING;
    case 'care':
      return { ...WAITING, id: { in: [...careIds] } };
    case 'returned':
      return { state: { in: ['returned', 'closed'] }, returnedAt: { gte: weekBefore(now) } };
  }
}

/** What narrows a list besides its words. */
export const whereOfQuery = (viewer: Viewer, query: DeskQuery, now: Date): Prisma.LessonWhereInput => {
  const grownUp = { birthDate: { lte: dateOfDay(viewer.adultsBornUntil) } };
  return {
    AND: [
      query.coachId ? { coachId: query.coachId } : {},
      query.state ? { state: query.state } : {},
      query.isOverdue ? { waitsUntil: { lt: now } } : {},
      query.isUnpaid ? { balance: { owedMinor: { gt: 0 } } } : {},
      query.checklist ? { checklist: { number: query.checklist } } : {},
      // An unknown birth date is treated as a minor's.
      query.players === 'adults' ? { thread: { player: grownUp } } : {},
      query.players === 'minors'
        ? {
            thread: {
              player: { OR: [{ birthDate: null }, { birthDate: { gt: dateOfDay(viewer.adultsBornUntil) } }] },
            },
          }
        : {},
    ],
  };
};

/** Rows after the cursor: waiting ones by promise, returned ones latest first. */
export const whereAfter = (filter: DeskFilter, { at, id }: DeskCursor): Prisma.LessonWhereInput =>
  filter === 'returned'
    ? { returnedAt: { lte: at }, OR: [{ returnedAt: { lt: at } }, { returnedAt: at, id: { lt: id } }] }
    : { waitsUntil: { gte: at }, OR: [{ waitsUntil: { gt: at } }, { waitsUntil: at, id: { gt: id } }] };

const MOST_FOUND = 500;

/**
 * The lessons of a list that hold all the words in the player's name and the question together. Only what waits, or
 * was returned this week, is looked through: that stays small however many lessons there are.
 */
export async function idsMatching(
  viewer: Viewer,
  filter: DeskFilter,
  find: string,
  now: Date,
): Promise<string[]> {
  const query = textQuery(find);
  if (query === null) return [];
  const list =
    filter === 'returned'
      ? Prisma.sql`lesson."returnedAt" >= ${weekBefore(now)} AND lesson.state IN ('returned', 'closed')`
      : Prisma.sql`lesson."waitsUntil" IS NOT NULL`;
  const rows = await prisma.$queryRaw<{ id: string }[]>`
    WITH list AS MATERIALIZED (
      SELECT lesson.id, player.name || ' ' || lesson.question AS words FROM "Lesson" lesson
      JOIN "Thread" thread ON thread.id = lesson."threadId"
      JOIN "Person" player ON player.id = thread."playerId"
      WHERE lesson."programId" = ${viewer.programId}::uuid AND ${list})
    SELECT id FROM list
    WHERE to_tsvector('simple', translate(words, '’‘''-', '    ')) @@ to_tsquery('simple', ${query})
    LIMIT ${MOST_FOUND}`;
  return rows.map(({ id }) => id);
}
