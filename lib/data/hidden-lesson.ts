import { CLEARANCE_REASON } from '@/lib/domain/people/clearances';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';

/** A coach whose checks ran out in the middle of a review hears why; for everybody else the lesson is absent. */
export async function hiddenLesson(viewer: Viewer, tx: Tx, id: LessonId): Promise<CagepostError> {
  const isHidden =
    isStaff(viewer) &&
    !viewer.isCleared &&
    (await db(tx).lesson.count({ where: { id, programId: viewer.programId, coachId: viewer.personId } })) > 0;
  if (!isHidden) return notFound('lesson');
  return new CagepostError('safeguarding', `${CLEARANCE_REASON} What you wrote is kept.`);
}
