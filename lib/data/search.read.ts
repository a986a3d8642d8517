import type { PersonRef } from '@/lib/domain/lessons/lesson';
import type { LessonState } from '@/lib/domain/lessons/state';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { LessonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { Prisma } from './generated/client';
import { idsByName } from './names';
import { personRef, toPerson } from './select';
import { taggedQuery, textQuery } from './text-query';
import { lessonsVisibleTo, playersVisibleTo } from './visibility';

/** A lesson as one line of what was found. */
export interface FoundLesson {
  id: LessonId;
  number: number;
  state: LessonState;
  player: PersonRef;
  question: string;
  submittedAt: Date;
  fixFirst: string | null;
}

/** So many of the newest lessons are looked through word by word. */
const NEWEST = 200;

/**
 * Players of the program whose name holds all the words, by name, at most 20; of very many that fit, 20 of them, and
 * `hasMore` says so. For staff, empty for anybody else.
 */
export async function findPlayers(
  viewer: Viewer,
  typed: string,
): Promise<{ rows: PersonRef[]; hasMore: boolean }> {
  if (!isStaff(viewer)) return { rows: [], hasMore: false };
  const take = 20;
  const found = await idsByName(viewer, typed, ['player'], take + 1);
  const rows = await prisma.person.findMany({
    where: {
      AND: [{ id: { in: found.slice(0, take) } }, playersVisibleTo(viewer)],
    },
    select: personRef,
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
  });
  return { rows: rows.map(toPerson), hasMore: found.length > take };
}

// Newest first, and never more work in a larger program: words that many questions hold are found among the newest
// lessons at once; others month by month, because an index of words alone would first gather every lesson there is.
async function idsOf(viewer: Viewer, typed: string, last: { at: Date; id: string } | null, take: number) {
  const query = textQuery(typed);
  const tagged = taggedQuery(typed);
  if (query === null || tagged === null) return [];
  const program = Prisma.sql`"programId" = ${viewer.programId}::uuid AND "submittedAt" IS NOT NULL`;
  const isAfter = last ? Prisma.sql`AND ("submittedAt", id) < (${last.at}, ${last.id}::uuid)` : Prisma.empty;
  const newest = await prisma.$queryRaw<{ id: string }[]>`
    SELECT id FROM (SELECT id, "submittedAt", "question" FROM "Lesson" WHERE ${program} ${isAfter}
      ORDER BY "submittedAt" DESC, id DESC LIMIT ${NEWEST}) newest
    WHERE tagged_words('', "question") @@ to_tsquery('simple', ${query})
    ORDER BY "submittedAt" DESC, id DESC LIMIT ${take}`;
  if (newest.length === take) return newest;
  return prisma.$queryRaw<{ id: string }[]>`
    WITH ends AS (SELECT
      (SELECT month_number("submittedAt") FROM "Lesson" WHERE ${program} ${isAfter}
        ORDER BY "submittedAt" DESC, id DESC LIMIT 1) AS last,
      (SELECT month_number("submittedAt") FROM "Lesson" WHERE ${program} ORDER BY "submittedAt", id LIMIT 1) AS first)
    SELECT hits.id FROM ends, generate_series(ends.last, ends.first, -1) AS month, LATERAL (
      SELECT id, "submittedAt" FROM "Lesson"
      WHERE tagged_words(month_tag("programId", month_number("submittedAt")), "question")
          @@ to_tsquery('simple', format(${tagged}, month_tag(${viewer.programId}::uuid, month)))
        AND ${program} ${isAfter}
      ORDER BY "submittedAt" DESC, id DESC) hits
    LIMIT ${take}`;
}

/**
 * Sent lessons of the program whose question holds all the words, newest first, 20 at a time: `after` is the last one
 * of the page before. For staff, empty for anybody else.
 */
export async function findLessons(
  viewer: Viewer,
  typed: string,
  after?: LessonId,
): Promise<{ rows: FoundLesson[]; hasMore: boolean }> {
  if (!isStaff(viewer)) return { rows: [], hasMore: false };
  const take = 20;
  const last = after
    ? await prisma.lesson.findFirst({
        where: { AND: [{ id: after, submittedAt: { not: null } }, lessonsVisibleTo(viewer)] },
        select: { id: true, submittedAt: true },
      })
    : null;
  const place = last?.submittedAt ? { at: last.submittedAt, id: last.id } : null;
  const found = await idsOf(viewer, typed, place, take + 1);
  const rows = await prisma.lesson.findMany({
    // What may be seen is said in one place; the words above only narrow it.
    where: { AND: [{ id: { in: found.map(({ id }) => id) } }, lessonsVisibleTo(viewer)] },
    select: {
      id: true,
      number: true,
      state: true,
      question: true,
      submittedAt: true,
      thread: { select: { player: { select: personRef } } },
      returns: { select: { fixFirst: true }, orderBy: { number: 'desc' }, take: 1 },
    },
    orderBy: [{ submittedAt: 'desc' }, { id: 'desc' }],
  });
  return {
    rows: rows.slice(0, take).map((row) => ({
      id: row.id as LessonId,
      number: row.number ?? 0,
      state: row.state,
      player: toPerson(row.thread.player),
      question: row.question,
      submittedAt: row.submittedAt ?? new Date(0),
      fixFirst: row.returns[0]?.fixFirst ?? null,
    })),
    hasMore: found.length > take,
  };
}
