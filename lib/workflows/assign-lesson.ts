import { writeAudit } from '@/lib/data/audit.write';
import { listCoaches } from '@/lib/data/desk.read';
import { appendLessonEvent, lockLesson } from '@/lib/data/lessons.write';
import { transaction } from '@/lib/data/transaction';
import { isLead, isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/**
 * Gives a waiting lesson to a coach, or (with null) back to everybody. A lead may do it with any lesson, a coach with
 * nobody's and with one's own.
 */
export async function assignLesson(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: { lessonId: LessonId; coachId: PersonId | null },
): Promise<void> {
  if (!isStaff(viewer)) throw notFound('lesson');
  const coaches = await listCoaches(viewer);
  if (input.coachId && !coaches.some((coach) => coach.id === input.coachId)) throw notFound('coach');
  await transaction(viewer, async (tx) => {
    const lesson = await lockLesson(viewer, tx, input.lessonId);
    if (!isLead(viewer) && lesson.coachId && lesson.coachId !== viewer.personId) {
      throw new CagepostError(
        'wrong-state',
        'Another coach has this lesson. Only they or the lead can hand it over.',
      );
    }
    await appendLessonEvent(viewer, tx, input.lessonId, {
      kind: input.coachId ? 'assigned' : 'released',
      coachId: input.coachId,
      at: clock.now(),
    });
    await writeAudit(viewer, tx, {
      action: input.coachId ? 'lesson.assigned' : 'lesson.released',
      subject: `lesson:${input.lessonId}`,
      data: { coachId: input.coachId },
    });
  });
}
