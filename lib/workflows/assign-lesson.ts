import { writeAudit } from '@/lib/data/audit.write';
import { listCoaches } from '@/lib/data/desk.read';
import { appendLessonEvent, lockLesson } from '@/lib/data/lessons.write';
import { transaction } from '@/lib/data/transaction';
import { isLead, isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { giveLesson } from './give-lesson';
import type { Ports } from './ports';

/**
 * Gives a waiting lesson to a coach, with a note to them, or (with null) back to everybody. A lead may do it with any
 * lesson, a coach with nobody's and with one's own. Giving it to who has it already changes nothing.
 */
export async function assignLesson(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  input: { lessonId: LessonId; coachId: PersonId | null; note?: string },
): Promise<void> {
  if (!isStaff(viewer)) throw notFound('lesson');
  const coaches = await listCoaches(viewer);
  if (input.coachId && !coaches.some((coach) => coach.id === input.coachId)) throw notFound('coach');
  await transaction(viewer, async (tx) => {
    const lesson = { ...(await lockLesson(viewer, tx, input.lessonId)), id: input.lessonId };
    if (!isLead(viewer) && lesson.coachId && lesson.coachId !== viewer.personId) {
      throw new CagepostError(
        'wrong-state',
        'Another coach has this lesson. Only they or the lead can hand it over.',
      );
    }
    const now = clock.now();
    if (input.coachId) {
      if (input.coachId === lesson.coachId) return;
      await giveLesson(viewer, tx, lesson, { coachId: input.coachId, note: input.note?.trim() ?? '', now });
      await queue.drainOutbox(tx);
      return;
    }
    await appendLessonEvent(viewer, tx, input.lessonId, { kind: 'released', at: now });
    await writeAudit(viewer, tx, {
      action: 'lesson.released',
      subject: `lesson:${input.lessonId}`,
      data: { fromId: lesson.coachId },
    });
  });
}
