import { writeAudit } from '@/lib/data/audit.write';
import { readClearances } from '@/lib/data/clearances.read';
import { readCoachTerms } from '@/lib/data/hours.read';
import { appendLessonEvent } from '@/lib/data/lessons.write';
import { listStaffToTell } from '@/lib/data/program.read';
import { readPromise } from '@/lib/data/promises.read';
import { bringPromiseForward, noteHandOver } from '@/lib/data/promises.write';
import { readAuthor } from '@/lib/data/threads.read';
import type { Tx } from '@/lib/data/transaction';
import { hoursOfCoach } from '@/lib/domain/desk/hours';
import type { LessonStanding } from '@/lib/domain/lessons/fold';
import { promisedBy } from '@/lib/domain/lessons/promise';
import type { Day } from '@/lib/domain/people/age';
import { isCleared } from '@/lib/domain/people/clearances';
import { isMinor } from '@/lib/domain/people/safeguarding';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId, PersonId, ThreadId } from '@/lib/domain/shared/ids';
import { tell } from './tell';
import { loadSide, type Side } from './thread-side';

/** A minor's lesson is given only to somebody whose checks hold. */
async function assertOpenTo(viewer: Viewer, tx: Tx, side: Side, coachId: PersonId): Promise<void> {
  if (!isMinor({ birthDate: side.player.birthDate as Day | null }, side.today)) return;
  const clearances = await readClearances(viewer, tx, coachId);
  if (isCleared(clearances, side.today)) return;
  throw new CagepostError(
    'safeguarding',
    'This player is a minor, and the checks of that coach are missing or have run out. Nothing was changed; give the lesson to somebody else, or record a new check on the People page.',
  );
}

/**
 * Where a coach promises an answer sooner than the program, the promise of a locked lesson is brought forward from now
 * on. It is never made later by who has the lesson.
 */
export async function keepOwnPromise(
  viewer: Viewer,
  tx: Tx,
  lessonId: LessonId,
  { coachId, side, now }: { coachId: PersonId; side: Side; now: Date },
): Promise<void> {
  const { hours, promiseHours } = await readCoachTerms(viewer, coachId, tx);
  if (promiseHours === null) return;
  const { program } = side;
  const own = { promiseHours, hours: hoursOfCoach(program.hours, hours), timeZone: program.timeZone };
  if (!(await bringPromiseForward(viewer, tx, lessonId, promisedBy(now, own)))) return;
  await writeAudit(viewer, tx, { action: 'promise.earlier', subject: `lesson:${lessonId}` });
}

/**
 * Gives a locked lesson to a coach of the program, with a note that only staff read: the hand-over is kept and audited,
 * the coach is told. Refused where the player is a minor and the coach's checks do not hold.
 */
export async function giveLesson(
  viewer: Viewer,
  tx: Tx,
  lesson: LessonStanding & { id: LessonId; threadId: ThreadId },
  { coachId, note, now }: { coachId: PersonId; note: string; now: Date },
): Promise<void> {
  const side = await loadSide(viewer, lesson.threadId, now, tx);
  await assertOpenTo(viewer, tx, side, coachId);
  await appendLessonEvent(viewer, tx, lesson.id, { kind: 'assigned', coachId, at: now });
  await noteHandOver(viewer, tx, lesson.id, { fromId: lesson.coachId, toId: coachId, note, at: now });
  await keepOwnPromise(viewer, tx, lesson.id, { coachId, side, now });
  await writeAudit(viewer, tx, {
    action: 'lesson.assigned',
    subject: `lesson:${lesson.id}`,
    data: { coachId, fromId: lesson.coachId, hasNote: note !== '' },
  });
  if (coachId === viewer.personId) return;
  const promise = await readPromise(viewer, lesson.id, tx);
  if (!promise) throw notFound('lesson');
  const data = {
    programName: side.program.name,
    playerName: side.player.name,
    lessonNumber: promise.number,
    byName: (await readAuthor(viewer, tx)).name,
    // Where the note stands.
    path: '/desk',
  };
  const isMinors = isMinor({ birthDate: side.player.birthDate as Day | null }, side.today);
  const staff = await listStaffToTell(viewer, tx, { coachId, isMinors, today: side.today });
  await tell(
    viewer,
    tx,
    { kind: 'lesson-given', data },
    {
      programId: viewer.programId,
      playerId: side.player.id,
      // All of the staff are answered for a coach who cannot be reached.
      to: staff.filter((one) => one.personId === coachId).map((one) => ({ ...one, at: now })),
      now,
    },
  );
}
