import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { emptySheet, sheetSchema, type Sheet } from '@/lib/domain/review/sheet';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { db, prisma, type Tx } from './client';
import { personRef, toPerson } from './select';
import { lessonsVisibleTo } from './visibility';

/** The sheet that a coach is writing, with the revision that the next save must name. */
export interface KeptSheet {
  sheet: Sheet;
  revision: number;
  updatedAt: Date | null;
  updatedBy: { id: PersonId; name: string } | null;
}

/** The sheet of a lesson for staff of its program, empty at revision 0 when nothing was written yet; null for anybody else. */
export async function readSheet(viewer: Viewer, lessonId: LessonId, tx?: Tx): Promise<KeptSheet | null> {
  if (!isStaff(viewer)) return null;
  const row = await db(tx).lesson.findFirst({
    where: { AND: [{ id: lessonId }, lessonsVisibleTo(viewer)] },
    select: { review: { select: { sheet: true, revision: true, updatedAt: true, updatedById: true } } },
  });
  if (!row) return null;
  if (!row.review) return { sheet: emptySheet(), revision: 0, updatedAt: null, updatedBy: null };
  const by = await db(tx).person.findUnique({ where: { id: row.review.updatedById }, select: personRef });
  return {
    sheet: sheetSchema.parse(row.review.sheet),
    revision: row.review.revision,
    updatedAt: row.review.updatedAt,
    updatedBy: by && toPerson(by),
  };
}

/** The latest returned sheet of each of the player's earlier lessons in this thread, newest first, for the bench and the thread. */
export async function listReturnedSheets(
  viewer: Viewer,
  playerId: PersonId,
): Promise<{ lessonId: LessonId; number: number; at: Date; fixFirst: string; sheet: Sheet }[]> {
  const rows = await prisma.lesson.findMany({
    where: { AND: [lessonsVisibleTo(viewer), { thread: { playerId }, returns: { some: {} } }] },
    select: {
      id: true,
      number: true,
      returns: { select: { at: true, fixFirst: true, sheet: true }, orderBy: { number: 'desc' }, take: 1 },
    },
    orderBy: { number: 'desc' },
    take: 50,
  });
  return rows.flatMap((row) =>
    row.returns.map((returned) => ({
      lessonId: row.id as LessonId,
      number: row.number ?? 0,
      at: returned.at,
      fixFirst: returned.fixFirst,
      sheet: sheetSchema.parse(returned.sheet),
    })),
  );
}
