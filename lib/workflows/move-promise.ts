import { addDays } from 'date-fns';
import { writeAudit } from '@/lib/data/audit.write';
import { lockLesson } from '@/lib/data/lessons.write';
import { readPromise } from '@/lib/data/promises.read';
import { putPromiseOff } from '@/lib/data/promises.write';
import { transaction } from '@/lib/data/transaction';
import { fromWallClock } from '@/lib/domain/desk/wall-clock';
import { isLead, isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';
import { assertContact, loadSide, tellPlayersSide } from './thread-side';

const LONGEST_DAYS = 60;

const refused = (words: string) => new CagepostError('invalid', `${words} Nothing was changed.`);

/**
 * The lesson's coach, or a lead, makes a promise later, because it cannot be kept: the player's side is told, and the
 * reason stands on the lesson. `local` is a wall clock of the program's zone, `YYYY-MM-DDTHH:mm`. The same time again
 * changes nothing.
 */
export async function movePromise(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  { lessonId, local, reason }: { lessonId: LessonId; local: string; reason: string },
): Promise<void> {
  if (!isStaff(viewer)) throw notFound('lesson');
  await transaction(viewer, async (tx) => {
    const lesson = await lockLesson(viewer, tx, lessonId);
    const promise = await readPromise(viewer, lessonId, tx);
    if (!promise || (lesson.state !== 'submitted' && lesson.state !== 'in_review')) {
      throw new CagepostError(
        'wrong-state',
        'This lesson waits for no answer any more. Nothing was changed.',
      );
    }
    if (!isLead(viewer) && lesson.coachId !== viewer.personId) {
      throw new CagepostError(
        'wrong-state',
        'Only the coach who has this lesson, or a lead, can move its promise. Take it first.',
      );
    }
    const now = clock.now();
    const side = await loadSide(viewer, lesson.threadId, now, tx);
    // The reason is read by the player.
    assertContact(viewer, side, 'Nothing was changed.');
    const toAt = fromWallClock(local, side.program.timeZone);
    if (!toAt) throw refused('Write the new day and time.');
    if (toAt.getTime() === promise.promisedAt.getTime()) return;
    if (toAt < promise.promisedAt)
      throw refused('A promise can be moved to a later time only; to be early, just answer.');
    if (toAt <= now) throw refused('That time has passed already.');
    if (toAt > addDays(now, LONGEST_DAYS)) throw refused(`Promise an answer within ${LONGEST_DAYS} days.`);
    await putPromiseOff(viewer, tx, lessonId, { toAt, reason: reason.trim(), at: now });
    await writeAudit(viewer, tx, { action: 'promise.later', subject: `lesson:${lessonId}` });
    const data = {
      programName: side.program.name,
      playerName: side.player.name,
      lessonNumber: promise.number,
      path: `/lessons/${lessonId}`,
    };
    await tellPlayersSide(viewer, tx, side, now, { kind: 'promise-moved', data });
    await queue.drainOutbox(tx);
  });
}
