import { writeAudit } from '@/lib/data/audit.write';
import { readLesson } from '@/lib/data/lessons.read';
import { appendLessonEvent, lockLesson } from '@/lib/data/lessons.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { LessonId } from '@/lib/domain/shared/ids';
import { cancelCharge } from './cancel-charge';
import type { Ports } from './ports';
import { loadSide, tellPlayersSide, tellStaff } from './thread-side';

/**
 * Takes a lesson back before it was returned, by its sender's side. Its money follows the rule of cancellation that
 * was agreed when it was sent: see `cancellationOf`. What was paid stays in the ledger, marked as to be given back,
 * until the program has given it back. Everybody who was told that it was sent is told of this too.
 */
export async function withdrawLesson(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  input: { lessonId: LessonId; reason: string },
): Promise<void> {
  const now = clock.now();
  await transaction(viewer, async (tx) => {
    const lesson = await lockLesson(viewer, tx, input.lessonId);
    if (!lesson.isOwn) throw notFound('lesson');
    await appendLessonEvent(viewer, tx, input.lessonId, {
      kind: 'withdrawn',
      at: now,
      reason: input.reason || null,
    });
    await cancelCharge(viewer, tx, { lessonId: input.lessonId, state: lesson.state, now });
    await writeAudit(viewer, tx, { action: 'lesson.withdrawn', subject: `lesson:${input.lessonId}` });
    if (lesson.state === 'draft') return;
    await tellBothSides();
    await queue.drainOutbox(tx);

    async function tellBothSides() {
      const side = await loadSide(viewer, lesson.threadId, now, tx);
      const detail = await readLesson(viewer, input.lessonId, tx);
      const body = {
        kind: 'lesson-withdrawn',
        data: {
          programName: side.program.name,
          playerName: side.player.name,
          lessonNumber: detail?.number ?? 0,
          path: `/lessons/${input.lessonId}`,
        },
      } as const;
      await tellPlayersSide(viewer, tx, side, now, body);
      await tellStaff(viewer, tx, side, now, body, lesson.coachId);
    }
  });
}
