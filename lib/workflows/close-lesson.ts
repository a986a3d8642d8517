import { writeAudit } from '@/lib/data/audit.write';
import { appendLessonEvent, lockLesson } from '@/lib/data/lessons.write';
import { transaction } from '@/lib/data/transaction';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { LessonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Closes a returned lesson: nothing more is expected on it. By the player's side or by staff. */
export async function closeLesson(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  lessonId: LessonId,
): Promise<void> {
  await transaction(viewer, async (tx) => {
    const lesson = await lockLesson(viewer, tx, lessonId);
    if (!lesson.isOwn && !isStaff(viewer)) throw notFound('lesson');
    await appendLessonEvent(viewer, tx, lessonId, { kind: 'closed', at: clock.now() });
    await writeAudit(viewer, tx, { action: 'lesson.closed', subject: `lesson:${lessonId}` });
  });
}
