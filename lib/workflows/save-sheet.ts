import { lockLesson } from '@/lib/data/lessons.write';
import { readSheet, type KeptSheet } from '@/lib/data/reviews.read';
import { saveSheet as keepSheet } from '@/lib/data/reviews.write';
import { transaction } from '@/lib/data/transaction';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { Sheet } from '@/lib/domain/review/sheet';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Saved under a new revision, or told what stands there instead. Nothing is ever overwritten unseen. */
export type SaveOutcome = { kind: 'kept'; revision: number; at: Date } | ({ kind: 'conflict' } & KeptSheet);

/** Keeps a coach's sheet if nobody saved since `baseRevision`. Only while the lesson waits or is in review. */
export async function saveSheet(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: { lessonId: LessonId; baseRevision: number; sheet: Sheet },
): Promise<SaveOutcome> {
  if (!isStaff(viewer)) throw notFound('lesson');
  const at = clock.now();
  return transaction(viewer, async (tx) => {
    const lesson = await lockLesson(viewer, tx, input.lessonId);
    if (lesson.state !== 'submitted' && lesson.state !== 'in_review') {
      throw new CagepostError(
        'wrong-state',
        'This lesson is not in review any more. Your last changes are kept on this device; reopen the lesson to save them.',
        { state: lesson.state },
      );
    }
    const revision = await keepSheet(viewer, tx, { ...input, at });
    if (revision !== null) return { kind: 'kept', revision, at };
    const kept = await readSheet(viewer, input.lessonId, tx);
    if (!kept) throw notFound('lesson');
    return { kind: 'conflict', ...kept };
  });
}
