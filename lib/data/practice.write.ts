import type { AssignmentId } from '@/lib/domain/drills/drill';
import { SAFETY_VERSION, type CheckInWords } from '@/lib/domain/drills/practice';
import { dateOfDay, type Day } from '@/lib/domain/people/age';
import { isStaff, sendsFor, type Viewer } from '@/lib/domain/people/viewer';
import type { SheetAssignment } from '@/lib/domain/review/sheet';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId, PersonId, ThreadId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { assignmentsVisibleTo, lessonsVisibleTo, playersVisibleTo } from './visibility';

/** Locks what a player practises until the transaction ends: a pain report and a return may come at once. */
const lockPractice = (tx: Tx, playerId: string) =>
  db(tx).$queryRaw`SELECT 1 FROM "Thread" WHERE "playerId" = ${playerId}::uuid FOR UPDATE`;

/**
 * Makes the drills on a returned sheet the player's: new ones are given, known ones changed, those that left the sheet
 * ended. When any is given, those of earlier lessons end. They start paused while practice is (or `isPainful`).
 * Call after `lockLesson`; staff only.
 */
export async function keepGiven(
  viewer: Viewer,
  tx: Tx,
  input: { lessonId: LessonId; given: readonly SheetAssignment[]; isPainful: boolean; at: Date },
): Promise<void> {
  const lesson = await db(tx).lesson.findFirst({
    where: { AND: [{ id: input.lessonId }, lessonsVisibleTo(viewer)] },
    select: {
      id: true,
      programId: true,
      number: true,
      threadId: true,
      thread: { select: { playerId: true } },
    },
  });
  if (!isStaff(viewer) || !lesson) throw notFound('lesson');
  const { given, at } = input;
  const { playerId } = lesson.thread;
  await lockPractice(tx, playerId);
  const known = await db(tx).drill.findMany({
    where: { programId: viewer.programId, id: { in: given.map((one) => one.drillId) } },
    select: { id: true },
  });
  const taken = await db(tx).assignment.findMany({
    where: { id: { in: given.map((one) => one.id) } },
    select: { id: true, lessonId: true },
  });
  if (
    given.some((one) => !known.some(({ id }) => id === one.drillId)) ||
    taken.some((one) => one.lessonId !== lesson.id)
  ) {
    throw new CagepostError(
      'invalid',
      'A drill on this sheet is not in your library. Take it out and choose another. Everything is kept.',
    );
  }
  const isPaused = (await db(tx).assignment.count({ where: pausedOf(playerId) })) > 0;
  const pause = isPaused || input.isPainful ? { pausedAt: at, pauseReason: 'pain' } : {};
  await db(tx).assignment.updateMany({
    where: { lessonId: lesson.id, endedAt: null, id: { notIn: given.map((one) => one.id) } },
    data: { endedAt: at },
  });
  if (given.length > 0) {
    await db(tx).assignment.updateMany({
      where: {
        playerId,
        endedAt: null,
        lesson: { threadId: lesson.threadId, number: { lt: lesson.number ?? 0 } },
      },
      data: { endedAt: at },
    });
  }
  for (const [position, { id, drillId, dose, cue, swingBy }] of given.entries()) {
    const facts = {
      position,
      drillId,
      dose,
      cue,
      swingBy: swingBy === null ? null : dateOfDay(swingBy as Day),
      endedAt: null,
    };
    const { programId } = lesson;
    await db(tx).assignment.upsert({
      where: { id },
      create: { id, programId, lessonId: lesson.id, playerId, givenAt: at, ...pause, ...facts },
      update: facts,
    });
  }
}

const pausedOf = (playerId: string) => ({ playerId, endedAt: null, pausedAt: { not: null } });

/** A drill given to the viewer or a ward, locked with everything else that player practises. Refused like an absent one. */
export async function lockGiven(
  viewer: Viewer,
  tx: Tx,
  id: AssignmentId,
): Promise<{ playerId: PersonId; lessonId: LessonId; threadId: ThreadId; coachId: PersonId | null }> {
  const row = await db(tx).assignment.findFirst({
    where: { AND: [{ id, playerId: { in: sendsFor(viewer) } }, assignmentsVisibleTo(viewer)] },
    select: { playerId: true, lesson: { select: { id: true, threadId: true, coachId: true } } },
  });
  if (!row) throw notFound('drill');
  await lockPractice(tx, row.playerId);
  return {
    playerId: row.playerId as PersonId,
    lessonId: row.lesson.id as LessonId,
    threadId: row.lesson.threadId as ThreadId,
    coachId: row.lesson.coachId as PersonId | null,
  };
}

/** Writes a check-in under the id the phone minted; answers false when it is there already. Call after `lockGiven`. */
export async function addCheckIn(
  viewer: Viewer,
  tx: Tx,
  input: CheckInWords & { id: string; assignmentId: AssignmentId; at: Date },
): Promise<boolean> {
  await lockGiven(viewer, tx, input.assignmentId);
  const before = await db(tx).checkIn.findUnique({
    where: { id: input.id },
    select: { assignmentId: true },
  });
  if (before && before.assignmentId !== String(input.assignmentId)) throw notFound('check-in');
  if (before) return false;
  await db(tx).checkIn.create({ data: { ...input, byId: viewer.personId, day: dateOfDay(input.day) } });
  return true;
}

/** Pauses everything that a player practises because of pain; what a clinician was said to have cleared counts no more. */
export async function pausePractice(viewer: Viewer, tx: Tx, playerId: PersonId, at: Date): Promise<void> {
  await mustSee(viewer, tx, playerId);
  await db(tx).assignment.updateMany({
    where: { playerId, programId: viewer.programId, endedAt: null, pausedAt: null },
    data: { pausedAt: at },
  });
  await db(tx).assignment.updateMany({ where: pausedOf(playerId), data: { pauseReason: 'pain' } });
}

/** Notes the word of the player's side that a clinician cleared practice; answers whether anything was paused. */
export async function noteCleared(viewer: Viewer, tx: Tx, playerId: PersonId): Promise<boolean> {
  if (!sendsFor(viewer).includes(playerId)) throw notFound('player');
  await mustSee(viewer, tx, playerId);
  await lockPractice(tx, playerId);
  const { count } = await db(tx).assignment.updateMany({
    where: pausedOf(playerId),
    data: { pauseReason: 'said-cleared' },
  });
  return count > 0;
}

/** Opens practice again where the player's side said that it is cleared; answers whether it was. Staff only. */
export async function openPractice(viewer: Viewer, tx: Tx, playerId: PersonId): Promise<boolean> {
  if (!isStaff(viewer)) throw notFound('player');
  await mustSee(viewer, tx, playerId);
  await lockPractice(tx, playerId);
  const { count } = await db(tx).assignment.updateMany({
    where: { ...pausedOf(playerId), pauseReason: 'said-cleared' },
    data: { pausedAt: null, pauseReason: null },
  });
  return count > 0;
}

/** Keeps that practice safety was confirmed; a second time is fine. For the player's side. */
export async function keepSafety(
  viewer: Viewer,
  tx: Tx,
  input: { playerId: PersonId; adult: string | null; at: Date },
): Promise<void> {
  if (!sendsFor(viewer).includes(input.playerId)) throw notFound('player');
  await mustSee(viewer, tx, input.playerId);
  await db(tx).practiceSafety.createMany({
    data: { ...input, version: SAFETY_VERSION, byId: viewer.personId },
    skipDuplicates: true,
  });
}

/** Links an unsent lesson to the drill that asked for its swing. Both are of the same player, and the viewer sends for them. */
export async function linkAnswer(
  viewer: Viewer,
  tx: Tx,
  lessonId: LessonId,
  answersId: AssignmentId,
): Promise<void> {
  const { playerId } = await lockGiven(viewer, tx, answersId);
  const { count } = await db(tx).lesson.updateMany({
    where: { AND: [{ id: lessonId, state: 'draft', thread: { playerId } }, lessonsVisibleTo(viewer)] },
    data: { answersId },
  });
  if (count === 0) throw notFound('lesson');
}

async function mustSee(viewer: Viewer, tx: Tx, playerId: PersonId): Promise<void> {
  const where = { AND: [{ id: playerId }, playersVisibleTo(viewer)] };
  if ((await db(tx).person.count({ where })) === 0) throw notFound('player');
}
