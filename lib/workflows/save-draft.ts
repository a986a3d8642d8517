import { lockLesson, saveDraftAnswers } from '@/lib/data/lessons.write';
import { transaction } from '@/lib/data/transaction';
import type { Draft } from '@/lib/domain/lessons/intake';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Keeps what the sender has answered so far. Files of clips that were taken off the list are removed. */
export async function saveDraft(
  { storage }: Pick<Ports, 'storage'>,
  viewer: Viewer,
  input: { lessonId: LessonId; draft: Draft },
): Promise<void> {
  const removed = await transaction(viewer, async (tx) => {
    const lesson = await lockLesson(viewer, tx, input.lessonId);
    if (!lesson.isOwn) throw notFound('lesson');
    if (lesson.state !== 'draft') {
      throw new CagepostError(
        'wrong-state',
        'This lesson is sent already. To add something, write a reply on it.',
      );
    }
    return saveDraftAnswers(viewer, tx, input.lessonId, input.draft);
  });
  // After the commit: a rolled-back save must not have cost a file.
  for (const id of removed) await storage.remove(`clips/${id}/`);
}
