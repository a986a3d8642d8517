import { listCoaches } from '@/lib/data/desk.read';
import { lockLesson } from '@/lib/data/lessons.write';
import { transaction } from '@/lib/data/transaction';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { giveLesson } from './give-lesson';
import type { Ports } from './ports';

/** One lesson that is to go to a coach, and who had it when that was decided. */
export interface Giving {
  lessonId: LessonId;
  coachId: PersonId;
  hadId: PersonId | null;
}

/** What became of them: given now or before, and left alone because somebody else was quicker. */
export interface SplitOutcome {
  given: LessonId[];
  left: LessonId[];
}

const MOST_AT_ONCE = 50;

/**
 * A lead gives several waiting lessons out at once. All of it happens or, refused, none; a lesson that was taken,
 * given or withdrawn since the lead looked is left alone and told of. Sending the same again changes nothing.
 */
export async function splitLessons(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  { givings, note = '' }: { givings: readonly Giving[]; note?: string },
): Promise<SplitOutcome> {
  if (!isLead(viewer)) throw notFound('desk');
  if (givings.length > MOST_AT_ONCE) {
    throw new CagepostError(
      'invalid',
      `Give out ${MOST_AT_ONCE} lessons at a time at most. Nothing was changed.`,
    );
  }
  const coaches = new Set((await listCoaches(viewer)).map(({ id }) => id));
  if (givings.some(({ coachId }) => !coaches.has(coachId))) throw notFound('coach');
  // Always in the same order: two leads at once would else wait for each other's lessons for ever.
  const ordered = [...givings].sort((a, b) => (a.lessonId < b.lessonId ? -1 : 1));
  return transaction(viewer, async (tx) => {
    const outcome: SplitOutcome = { given: [], left: [] };
    for (const { lessonId, coachId, hadId } of ordered) {
      const lesson = { ...(await lockLesson(viewer, tx, lessonId)), id: lessonId };
      if (lesson.coachId === coachId) outcome.given.push(lessonId);
      else if (lesson.state !== 'submitted' || lesson.coachId !== hadId) outcome.left.push(lessonId);
      else {
        await giveLesson(viewer, tx, lesson, { coachId, note: note.trim(), now: clock.now() });
        outcome.given.push(lessonId);
      }
    }
    await queue.drainOutbox(tx);
    return outcome;
  });
}
