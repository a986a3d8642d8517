import { writeAudit } from '@/lib/data/audit.write';
import { createDraft } from '@/lib/data/lessons.write';
import { linkAnswer } from '@/lib/data/practice.write';
import { transaction } from '@/lib/data/transaction';
import type { AssignmentId } from '@/lib/domain/drills/drill';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';

/**
 * Starts an unsent lesson under the sender's own id; the same id again is the same lesson. `answersId` names the drill
 * that asked for this swing.
 */
export const startLesson = (
  viewer: Viewer,
  input: {
    lessonId: LessonId;
    playerId: PersonId;
    followsId: LessonId | null;
    answersId?: AssignmentId | null | undefined;
  },
): Promise<void> =>
  transaction(viewer, async (tx) => {
    const { answersId, ...draft } = input;
    const isNew = await createDraft(viewer, tx, draft);
    if (answersId) await linkAnswer(viewer, tx, input.lessonId, answersId);
    if (!isNew) return;
    await writeAudit(viewer, tx, { action: 'lesson.started', subject: `lesson:${input.lessonId}` });
  });
