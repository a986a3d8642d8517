import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { LessonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { lessonsVisibleTo } from './visibility';

/** What was promised for a lesson that was sent; null when absent or not the viewer's to see. For staff. */
export async function readPromise(
  viewer: Viewer,
  id: LessonId,
  tx?: Tx,
): Promise<{ number: number; promisedAt: Date } | null> {
  if (!isStaff(viewer)) return null;
  const row = await db(tx).lesson.findFirst({
    where: { AND: [{ id, promisedAt: { not: null } }, lessonsVisibleTo(viewer)] },
    select: { number: true, promisedAt: true },
  });
  return row?.promisedAt ? { number: row.number ?? 0, promisedAt: row.promisedAt } : null;
}
