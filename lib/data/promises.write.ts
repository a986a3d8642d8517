import { v7 as uuid } from 'uuid';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { readPromise } from './promises.read';

/** Makes the promise of a locked lesson an earlier one; a later time changes nothing. Answers whether it did. Staff only. */
export async function bringPromiseForward(
  viewer: Viewer,
  tx: Tx,
  id: LessonId,
  promisedAt: Date,
): Promise<boolean> {
  const kept = await readPromise(viewer, id, tx);
  if (!kept) throw notFound('lesson');
  if (promisedAt >= kept.promisedAt) return false;
  await db(tx).lesson.update({ where: { id }, data: { promisedAt } });
  return true;
}

/** Moves the promise of a locked lesson to a later time and notes from where, why and by whom. Staff only. */
export async function putPromiseOff(
  viewer: Viewer,
  tx: Tx,
  id: LessonId,
  move: { toAt: Date; reason: string; at: Date },
): Promise<void> {
  const kept = await readPromise(viewer, id, tx);
  if (!kept) throw notFound('lesson');
  await db(tx).lesson.update({ where: { id }, data: { promisedAt: move.toAt } });
  await db(tx).promiseMove.create({
    data: { id: uuid(), lessonId: id, fromAt: kept.promisedAt, byId: viewer.personId, ...move },
  });
}

/** Notes that a locked lesson was passed on among the staff, with what was written to who gets it. Staff only. */
export async function noteHandOver(
  viewer: Viewer,
  tx: Tx,
  id: LessonId,
  given: { fromId: PersonId | null; toId: PersonId; note: string; at: Date },
): Promise<void> {
  if (!isStaff(viewer) || !(await readPromise(viewer, id, tx))) throw notFound('lesson');
  await db(tx).handOver.create({ data: { id: uuid(), lessonId: id, byId: viewer.personId, ...given } });
}
