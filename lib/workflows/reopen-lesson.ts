import { writeAudit } from '@/lib/data/audit.write';
import { appendLessonEvent, lockLesson } from '@/lib/data/lessons.write';
import { transaction } from '@/lib/data/transaction';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Takes a returned lesson into review again, with a reason that stays in its history. The player keeps what was returned. */
export async function reopenLesson(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: { lessonId: LessonId; reason: string },
): Promise<void> {
  if (!isStaff(viewer)) throw notFound('lesson');
  if (!input.reason.trim()) {
    throw new CagepostError(
      'invalid',
      'Write why you reopen it: the reason stays in the history of the lesson.',
    );
  }
  const at = clock.now();
  await transaction(viewer, async (tx) => {
    await lockLesson(viewer, tx, input.lessonId);
    await appendLessonEvent(viewer, tx, input.lessonId, {
      kind: 'reopened',
      reason: input.reason.trim(),
      at,
    });
    await writeAudit(viewer, tx, { action: 'lesson.reopened', subject: `lesson:${input.lessonId}` });
  });
}
