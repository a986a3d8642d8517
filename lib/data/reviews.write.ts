import { v7 as uuid } from 'uuid';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { Sheet } from '@/lib/domain/review/sheet';
import { notFound } from '@/lib/domain/shared/errors';
import type { LessonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { lessonsVisibleTo } from './visibility';

/** Refuses everybody but staff of the lesson's program, as if the lesson were absent. */
async function mustReview(viewer: Viewer, tx: Tx, lessonId: LessonId): Promise<void> {
  const where = { AND: [{ id: lessonId }, lessonsVisibleTo(viewer)] };
  if (!isStaff(viewer) || (await db(tx).lesson.count({ where })) === 0) throw notFound('lesson');
}

/**
 * Keeps a sheet if nobody saved since `baseRevision`; answers the new revision, or null when somebody did (then
 * nothing was written). Call after `lockLesson`. For staff of the lesson's program.
 */
export async function saveSheet(
  viewer: Viewer,
  tx: Tx,
  input: { lessonId: LessonId; baseRevision: number; sheet: Sheet; at: Date },
): Promise<number | null> {
  await mustReview(viewer, tx, input.lessonId);
  const { lessonId, baseRevision, sheet, at } = input;
  const facts = { sheet, updatedById: viewer.personId, updatedAt: at };
  const row = await db(tx).review.findUnique({ where: { lessonId }, select: { revision: true } });
  if ((row?.revision ?? 0) !== baseRevision) return null;
  const revision = baseRevision + 1;
  await db(tx).review.upsert({
    where: { lessonId },
    create: { lessonId, revision, ...facts },
    update: { revision, ...facts },
  });
  return revision;
}

/** Keeps what is given back, as it stands now. Returns its number, 1 for the first return of the lesson. */
export async function keepReturn(
  viewer: Viewer,
  tx: Tx,
  input: { lessonId: LessonId; sheet: Sheet; fixFirst: string; at: Date },
): Promise<number> {
  await mustReview(viewer, tx, input.lessonId);
  const last = await db(tx).return.aggregate({ where: { lessonId: input.lessonId }, _max: { number: true } });
  const number = (last._max.number ?? 0) + 1;
  await db(tx).return.create({ data: { id: uuid(), number, byId: viewer.personId, ...input } });
  return number;
}
