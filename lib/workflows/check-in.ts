import { writeAudit } from '@/lib/data/audit.write';
import { readLesson } from '@/lib/data/lessons.read';
import { readPracticeSafety } from '@/lib/data/practice.read';
import { addCheckIn, lockGiven, pausePractice } from '@/lib/data/practice.write';
import { transaction } from '@/lib/data/transaction';
import type { AssignmentId } from '@/lib/domain/drills/drill';
import { checkInSchema, isPainful, type CheckInWords } from '@/lib/domain/drills/practice';
import { dateOfDay, type Day } from '@/lib/domain/people/age';
import { mayHaveLogin } from '@/lib/domain/people/safeguarding';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';
import { loadSide, tellPlayersSide, tellStaff } from './thread-side';

const DAY_MS = 86_400_000;

/**
 * Keeps what was practised, for oneself or a ward, under the id that the phone minted: sent twice or days later it is
 * one. Any pain pauses everything that the player practises, at once, and tells the coach and the player's side; such
 * a report is never refused for want of confirmed safety. Answers whether practice is paused by it.
 */
export async function checkIn(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  input: { id: string; assignmentId: AssignmentId; said: CheckInWords },
): Promise<{ isPaused: boolean }> {
  const now = clock.now();
  const parsed = checkInSchema.safeParse(input.said);
  if (!parsed.success) {
    throw new CagepostError(
      'invalid',
      `${parsed.error.issues[0]?.message ?? 'Something does not fit.'} What you wrote is kept here.`,
    );
  }
  const said = parsed.data;
  const { id, assignmentId } = input;
  return transaction(viewer, async (tx) => {
    const given = await lockGiven(viewer, tx, assignmentId);
    const side = await loadSide(viewer, given.threadId, now, tx);
    if (
      given.playerId === viewer.personId &&
      !mayHaveLogin({ birthDate: side.player.birthDate as Day | null }, side.today)
    ) {
      throw new CagepostError('safeguarding', 'Under 13 a guardian checks in for the player.');
    }
    const days = (dateOfDay(said.day).getTime() - dateOfDay(side.today).getTime()) / DAY_MS;
    // A phone may be a day ahead of the program, and its check-in may have waited a month for a network.
    if (days > 1 || days < -60) {
      throw new CagepostError(
        'invalid',
        'That day does not fit. Check the date of this phone and send it again.',
      );
    }
    if (!isPainful(said) && !(await readPracticeSafety(viewer, given.playerId, tx))) {
      throw new CagepostError(
        'wrong-state',
        'Confirm that the place is safe first. What you wrote is kept here.',
      );
    }
    const isNew = await addCheckIn(viewer, tx, { id, assignmentId, ...said, at: now });
    if (!isNew) return { isPaused: isPainful(said) };
    if (isPainful(said)) {
      await pausePractice(viewer, tx, given.playerId, now);
      const lesson = await readLesson(viewer, given.lessonId, tx);
      if (!lesson) throw notFound('lesson');
      const data = {
        programName: side.program.name,
        playerName: side.player.name,
        lessonNumber: lesson.number,
        path: `/lessons/${given.lessonId}`,
      };
      const pain = { kind: 'pain-reported', data } as const;
      await tellPlayersSide(viewer, tx, side, now, pain);
      await tellStaff(viewer, tx, side, now, pain, given.coachId);
    }
    await writeAudit(viewer, tx, {
      action: isPainful(said) ? 'practice.paused' : 'practice.checked-in',
      subject: `person:${given.playerId}`,
      data: { assignmentId },
    });
    await queue.drainOutbox(tx);
    return { isPaused: isPainful(said) };
  });
}
