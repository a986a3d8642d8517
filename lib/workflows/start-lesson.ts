import { writeAudit } from '@/lib/data/audit.write';
import { createDraft } from '@/lib/data/lessons.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';

/** Starts an unsent lesson under the sender's own id; the same id again is the same lesson. */
export const startLesson = (
  viewer: Viewer,
  input: { lessonId: LessonId; playerId: PersonId; followsId: LessonId | null },
): Promise<void> =>
  transaction(viewer, async (tx) => {
    if (!(await createDraft(viewer, tx, input))) return;
    await writeAudit(viewer, tx, { action: 'lesson.started', subject: `lesson:${input.lessonId}` });
  });
