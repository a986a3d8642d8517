import { writeAudit } from '@/lib/data/audit.write';
import { readLesson } from '@/lib/data/lessons.read';
import { appendLessonEvent, lockLesson } from '@/lib/data/lessons.write';
import { readAuthor } from '@/lib/data/threads.read';
import { transaction } from '@/lib/data/transaction';
import type { Day } from '@/lib/domain/people/age';
import { isLead, isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonStanding } from '@/lib/domain/lessons/fold';
import type { LessonId } from '@/lib/domain/shared/ids';
import { keepOwnPromise } from './give-lesson';
import type { Ports } from './ports';
import { assertCleared, loadSide, tellPlayersSide } from './thread-side';

/** Refuses a coach who would take what was given to another one; a lead may. */
export function assertMayTake(viewer: Viewer, lesson: LessonStanding): void {
  if (lesson.coachId === null || lesson.coachId === viewer.personId || isLead(viewer)) return;
  throw new CagepostError(
    'wrong-state',
    'This lesson was given to another coach. Only they or the lead can hand it over. What you wrote is kept.',
  );
}

/**
 * A coach takes a submitted lesson into review, and the player's side is told. Taking one's own again changes nothing;
 * another coach's is refused.
 */
export async function takeLesson(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  lessonId: LessonId,
): Promise<void> {
  if (!isStaff(viewer)) throw notFound('lesson');
  await transaction(viewer, async (tx) => {
    const lesson = await lockLesson(viewer, tx, lessonId);
    if (lesson.state === 'in_review' && lesson.coachId === viewer.personId) return;
    if (lesson.state === 'in_review') {
      throw new CagepostError(
        'wrong-state',
        'Another coach is reviewing this lesson. Ask for it to be handed over.',
      );
    }
    assertMayTake(viewer, lesson);
    const side = await loadSide(viewer, lesson.threadId, clock.now(), tx);
    assertCleared(viewer, { birthDate: side.player.birthDate as Day | null }, side.today);
    await appendLessonEvent(viewer, tx, lessonId, {
      kind: 'taken',
      coachId: viewer.personId,
      at: clock.now(),
    });
    await keepOwnPromise(viewer, tx, lessonId, { coachId: viewer.personId, side, now: clock.now() });
    const detail = await readLesson(viewer, lessonId, tx);
    await tellPlayersSide(viewer, tx, side, clock.now(), {
      kind: 'lesson-taken',
      data: {
        programName: side.program.name,
        playerName: side.player.name,
        coachName: (await readAuthor(viewer, tx)).name,
        lessonNumber: detail?.number ?? 0,
        path: `/lessons/${lessonId}`,
      },
    });
    await writeAudit(viewer, tx, { action: 'lesson.taken', subject: `lesson:${lessonId}` });
    await queue.drainOutbox(tx);
  });
}
