import { writeAudit } from '@/lib/data/audit.write';
import { listCoaches } from '@/lib/data/desk.read';
import { appendLessonEvent, lockLesson } from '@/lib/data/lessons.write';
import { readClearances } from '@/lib/data/clearances.read';
import { transaction, type Tx } from '@/lib/data/transaction';
import type { Day } from '@/lib/domain/people/age';
import { isCleared } from '@/lib/domain/people/clearances';
import { isMinor } from '@/lib/domain/people/safeguarding';
import { isLead, isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId, PersonId, ThreadId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';
import { loadSide } from './thread-side';

/** A minor's lesson is given only to somebody whose checks hold. */
async function assertOpenTo(
  viewer: Viewer,
  tx: Tx,
  threadId: ThreadId,
  coachId: PersonId | null,
  now: Date,
): Promise<void> {
  if (!coachId) return;
  const side = await loadSide(viewer, threadId, now, tx);
  if (!isMinor({ birthDate: side.player.birthDate as Day | null }, side.today)) return;
  const clearances = await readClearances(viewer, tx, coachId);
  if (isCleared(clearances, side.today)) return;
  throw new CagepostError(
    'safeguarding',
    'This player is a minor, and the checks of that coach are missing or have run out. Nothing was changed; give the lesson to somebody else, or record a new check on the People page.',
  );
}

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
    await assertOpenTo(viewer, tx, lesson.threadId, input.coachId, clock.now());
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
