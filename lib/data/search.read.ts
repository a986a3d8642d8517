import type { PersonRef } from '@/lib/domain/lessons/lesson';
import type { LessonState } from '@/lib/domain/lessons/state';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { LessonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { Prisma } from './generated/client';
import { personRef, toPerson } from './select';
import { textQuery } from './text-query';
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
const NEWEST = 400;

/** Players of the program whose name holds all the words, by name, at most 20; for staff, empty for anybody else. */
export async function findPlayers(viewer: Viewer, typed: string): Promise<PersonRef[]> {
  const query = textQuery(typed);
  if (!isStaff(viewer) || query === null) return [];
  const found = await prisma.$queryRaw<{ id: string }[]>`
    SELECT id FROM "Person"
    WHERE to_tsvector('simple', translate("name", '’‘''-', '    ')) @@ to_tsquery('simple', ${query})
      AND EXISTS (SELECT 1 FROM "Membership" place
        WHERE place."personId" = "Person".id AND place."programId" = ${viewer.programId}::uuid AND place.role = 'player')
    ORDER BY "name", id LIMIT 20`;
  const rows = await prisma.person.findMany({
    where: { AND: [{ id: { in: found.map(({ id }) => id) } }, playersVisibleTo(viewer)] },
    select: personRef,
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
  });
  return rows.map(toPerson);
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
  const query = textQuery(typed);
  if (!isStaff(viewer) || query === null) return { rows: [], hasMore: false };
  const take = 20;
  const last = after
    ? await prisma.lesson.findFirst({
        where: { AND: [{ id: after, submittedAt: { not: null } }, lessonsVisibleTo(viewer)] },
        select: { submittedAt: true },
      })
    : null;
  const program = Prisma.sql`"programId" = ${viewer.programId}::uuid AND "submittedAt" IS NOT NULL`;
  const words = Prisma.sql`to_tsvector('simple', translate("question", '’‘''-', '    ')) @@ to_tsquery('simple', ${query})`;
  const isAfter =
    last?.submittedAt && after
      ? Prisma.sql`AND ("submittedAt", id) < (${last.submittedAt}, ${after}::uuid)`
      : Prisma.empty;
  // Common words are found among the newest lessons at once; rare ones by their index. Left to itself the planner
  // takes every word whose end is missing for a common one and reads the program from end to end.
  let found = await prisma.$queryRaw<{ id: string }[]>`
    SELECT id FROM (SELECT id, "submittedAt", "question" FROM "Lesson" WHERE ${program} ${isAfter}
      ORDER BY "submittedAt" DESC, id DESC LIMIT ${NEWEST}) newest
    WHERE ${words} ORDER BY "submittedAt" DESC, id DESC LIMIT ${take + 1}`;
  if (found.length <= take) {
    found = await prisma.$queryRaw<{ id: string }[]>`
      WITH hits AS MATERIALIZED (SELECT id, "submittedAt", "programId" FROM "Lesson" WHERE ${words} OFFSET 0)
      SELECT id FROM hits WHERE ${program} ${isAfter}
      ORDER BY "submittedAt" DESC, id DESC LIMIT ${take + 1}`;
  }
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
