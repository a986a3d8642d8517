import { toPolicy, type MoneyPolicy } from '@/lib/domain/billing/policy';
import type { Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { LessonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { lessonsVisibleTo } from './visibility';

/** What was agreed about money when the lesson was sent. Refuses like an absent one when it is not the viewer's to see. */
export async function readPolicy(viewer: Viewer, lessonId: LessonId, tx?: Tx): Promise<MoneyPolicy> {
  const row = await db(tx).lesson.findFirst({
    where: { AND: [{ id: lessonId }, lessonsVisibleTo(viewer)] },
    select: { policy: true },
  });
  if (!row) throw notFound('lesson');
  return toPolicy(row.policy);
}
