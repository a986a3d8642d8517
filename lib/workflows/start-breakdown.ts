import { writeAudit } from '@/lib/data/audit.write';
import { createBreakdown } from '@/lib/data/breakdowns.write';
import { appendLessonEvent, lockLesson } from '@/lib/data/lessons.write';
import { transaction } from '@/lib/data/transaction';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { BreakdownId, LessonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';
import { assertMayTake } from './take-lesson';
import { assertContact, loadSide } from './thread-side';

/** What coaches read where nothing of a recording may reach the player's thread. */
export const RECORDING_KEPT = 'What you record stays on this device until then.';

/**
 * Begins a breakdown under the coach's own id; the same id again is the same breakdown. The lesson is the coach's: in
 * review, or returned and closed by them (a second one after a reply); one that nobody took is taken. Refused while a
 * minor's thread is closed for adults.
 */
export async function startBreakdown(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: { breakdownId: BreakdownId; lessonId: LessonId; title?: string | undefined; hasVoice: boolean },
): Promise<void> {
  if (!isStaff(viewer)) throw notFound('lesson');
  const at = clock.now();
  await transaction(viewer, async (tx) => {
    const lesson = await lockLesson(viewer, tx, input.lessonId);
    const side = await loadSide(viewer, lesson.threadId, at, tx);
    assertContact(viewer, side, RECORDING_KEPT);
    if (lesson.state === 'submitted') {
      assertMayTake(viewer, lesson);
      await appendLessonEvent(viewer, tx, input.lessonId, { kind: 'taken', coachId: viewer.personId, at });
    } else if (lesson.state === 'draft' || lesson.state === 'withdrawn') {
      throw new CagepostError('wrong-state', `This lesson is not to be reviewed. ${RECORDING_KEPT}`);
    } else if (lesson.coachId !== viewer.personId) {
      throw new CagepostError('wrong-state', `Another coach has this lesson now. ${RECORDING_KEPT}`);
    }
    const { lessonId, hasVoice, title = '' } = input;
    const isNew = await createBreakdown(viewer, tx, { id: input.breakdownId, lessonId, title, hasVoice, at });
    if (isNew)
      await writeAudit(viewer, tx, {
        action: 'breakdown.started',
        subject: `breakdown:${input.breakdownId}`,
        data: { lesson: lessonId },
      });
  });
}
