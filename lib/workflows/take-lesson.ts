import { writeAudit } from '@/lib/data/audit.write';
import { appendLessonEvent, lockLesson } from '@/lib/data/lessons.write';
import { transaction } from '@/lib/data/transaction';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** A coach takes a submitted lesson into review. Taking one's own again changes nothing; another coach's is refused. */
export async function takeLesson(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  lessonId: LessonId,
): Promise<void> {
  if (!isStaff(viewer)) throw notFound('lesson');
  await transaction(viewer, async (tx) => {
    const lesson = await lockLesson(viewer, tx, lessonId);
    if (lesson.state === 'in_review' && lesson.coachId === viewer.personId) return;
    if (lesson.state === 'in_review') {
      throw new CagepostError(
        'wrong-state',
        'Another coach is reviewing this lesson. Ask for it to be handed over.',
      );
    }
    await appendLessonEvent(viewer, tx, lessonId, {
      kind: 'taken',
      coachId: viewer.personId,
      at: clock.now(),
    });
    await writeAudit(viewer, tx, { action: 'lesson.taken', subject: `lesson:${lessonId}` });
  });
}
