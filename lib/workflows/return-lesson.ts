import { writeAudit } from '@/lib/data/audit.write';
import { listBreakdowns } from '@/lib/data/breakdowns.read';
import { giveBreakdowns } from '@/lib/data/breakdowns.write';
import { readLesson } from '@/lib/data/lessons.read';
import { listGiven } from '@/lib/data/practice.read';
import { keepGiven } from '@/lib/data/practice.write';
import { appendLessonEvent, lockLesson } from '@/lib/data/lessons.write';
import { readSheet } from '@/lib/data/reviews.read';
import { keepReturn } from '@/lib/data/reviews.write';
import { readAuthor } from '@/lib/data/threads.read';
import { transaction } from '@/lib/data/transaction';
import { followUpOf } from '@/lib/domain/drills/practice';
import { noticePlan, type NoticeTo } from '@/lib/domain/notices/plan';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { missingForReturn } from '@/lib/domain/review/missing';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId } from '@/lib/domain/shared/ids';
import { assertReadyToGive } from './give-breakdown';
import type { Ports } from './ports';
import { assertMayTake } from './take-lesson';
import { assertContact, loadSide, tellPlayersSide } from './thread-side';

/**
 * Gives a lesson back: the sheet of that revision becomes what the player reads, and the player's side is told.
 * Refused while something that the player needs is missing, while a minor's thread is closed for adults, or when
 * somebody saved after `revision`. The breakdowns that are ready are given with it; one without captions needs
 * `withoutCaptions`: the coach has read the reminder. Only the coach who has it (or takes it now) can. Returns who is told
 * and when; the same coach's same revision again changes nothing and answers the same.
 */
export async function returnLesson(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  input: { lessonId: LessonId; revision: number; withoutCaptions?: boolean | undefined },
): Promise<NoticeTo[]> {
  if (!isStaff(viewer)) throw notFound('lesson');
  const now = clock.now();
  return transaction(viewer, async (tx) => {
    const lesson = await lockLesson(viewer, tx, input.lessonId);
    if (lesson.state === 'in_review' && lesson.coachId !== viewer.personId) {
      throw new CagepostError('wrong-state', 'Another coach has this lesson now. What you wrote is kept.');
    }
    if (lesson.state === 'submitted') assertMayTake(viewer, lesson);
    const side = await loadSide(viewer, lesson.threadId, now, tx);
    assertContact(viewer, side);
    const [detail, kept] = [
      await readLesson(viewer, input.lessonId, tx),
      await readSheet(viewer, input.lessonId, tx),
    ];
    if (!detail || !kept) throw notFound('lesson');
    if (kept.revision !== input.revision) {
      throw new CagepostError(
        'conflict',
        'The review changed in another window. Look at it again, then return it.',
      );
    }
    // The answer to the first try was lost on its way. A sheet that is given back changes only after a reopening.
    if (lesson.state === 'returned' && lesson.coachId === viewer.personId)
      return noticePlan(side, now, side.today, side.program.timeZone);
    const blocking = missingForReturn(kept.sheet, detail.checklist).filter((missing) => missing.blocks);
    if (blocking.length > 0) {
      throw new CagepostError(
        'invalid',
        `${blocking.map((missing) => missing.sentence).join(' ')} Everything is kept.`,
      );
    }
    assertReadyToGive(await listBreakdowns(viewer, input.lessonId, now), input.withoutCaptions ?? false);
    if (lesson.state === 'submitted') {
      await appendLessonEvent(viewer, tx, input.lessonId, {
        kind: 'taken',
        coachId: viewer.personId,
        at: now,
      });
    }
    await appendLessonEvent(viewer, tx, input.lessonId, { kind: 'returned', at: now });
    const breakdowns = await giveBreakdowns(viewer, tx, input.lessonId, now);
    const number = await keepReturn(viewer, tx, {
      lessonId: input.lessonId,
      sheet: kept.sheet,
      fixFirst: kept.sheet.fixFirst?.sentence ?? '',
      at: now,
    });
    await keepGiven(viewer, tx, {
      lessonId: input.lessonId,
      given: kept.sheet.assignments,
      isPainful: (detail.painLevel ?? 0) > 0,
      at: now,
    });
    const data = {
      programName: side.program.name,
      playerName: side.player.name,
      lessonNumber: detail.number,
      path: `/lessons/${input.lessonId}`,
    };
    const { name: coachName } = await readAuthor(viewer, tx);
    const told = await tellPlayersSide(viewer, tx, side, now, {
      kind: 'lesson-returned',
      data: { ...data, coachName },
    });
    const [swingBy] = (await listGiven(viewer, { lessonId: input.lessonId }, tx))
      .filter((one) => followUpOf({ ...one, isPaused: one.pausedAt !== null }, side.today) === 'wanted')
      .flatMap((one) => one.swingBy ?? [])
      .sort();
    if (swingBy)
      await tellPlayersSide(viewer, tx, side, now, { kind: 'swing-asked', data: { ...data, swingBy } });
    await writeAudit(viewer, tx, {
      action: 'lesson.returned',
      subject: `lesson:${input.lessonId}`,
      data: { number, revision: kept.revision, breakdowns },
    });
    await queue.drainOutbox(tx);
    return told;
  });
}
