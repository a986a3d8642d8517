import { v7 as uuid } from 'uuid';
import type { MoneyPolicy } from '@/lib/domain/billing/policy';
import { advance, type LessonEventKind, type LessonStanding } from '@/lib/domain/lessons/fold';
import type { Draft } from '@/lib/domain/lessons/intake';
import { isStaff, sendsFor, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { ClipId, LessonId, PersonId, ThreadId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import type { Prisma } from './generated/client';
import { hiddenLesson } from './hidden-lesson';
import { lessonsVisibleTo } from './visibility';

/** The player's thread in the viewer's program, when the viewer may send for that player; refuses like an absent one. */
async function threadToSendOn(viewer: Viewer, tx: Tx, playerId: PersonId): Promise<ThreadId> {
  const thread = await db(tx).thread.findFirst({
    where: {
      programId: viewer.programId,
      playerId: { in: sendsFor(viewer).filter((id) => id === playerId) },
    },
    select: { id: true },
  });
  if (!thread) throw notFound('player');
  return thread.id as ThreadId;
}

/**
 * Starts an unsent lesson under the sender's own id, or finds it there already and answers `false`; either way it then
 * follows the given lesson, which must be a returned or closed one of the same thread.
 */
export async function createDraft(
  viewer: Viewer,
  tx: Tx,
  input: { lessonId: LessonId; playerId: PersonId; followsId: LessonId | null },
): Promise<boolean> {
  const threadId = await threadToSendOn(viewer, tx, input.playerId);
  if (input.followsId) {
    const followed = await db(tx).lesson.findFirst({
      where: { id: input.followsId, threadId, state: { in: ['returned', 'closed'] } },
      select: { id: true },
    });
    if (!followed) throw notFound('lesson to follow');
  }
  const checklist = await db(tx).checklist.findFirst({
    where: { programId: viewer.programId },
    orderBy: { number: 'desc' },
    select: { id: true },
  });
  if (!checklist)
    throw new CagepostError('unavailable', 'This program has no checklist yet. Ask its lead to make one.');
  // Not "look, then insert": two windows of one phone may both start it at once.
  const { count } = await db(tx).lesson.createMany({
    data: {
      id: input.lessonId,
      programId: viewer.programId,
      threadId,
      followsId: input.followsId,
      startedById: viewer.personId,
      checklistId: checklist.id,
    },
    skipDuplicates: true,
  });
  if (count === 1) {
    await db(tx).lessonEvent.create({
      // By the clock of all other events, not the database's: the order of events is the lesson's history.
      data: {
        id: uuid(),
        lessonId: input.lessonId,
        kind: 'created',
        actorId: viewer.personId,
        at: new Date(),
      },
    });
    return true;
  }
  const existing = await db(tx).lesson.findUnique({
    where: { id: input.lessonId },
    select: { threadId: true },
  });
  if (existing?.threadId !== threadId) throw notFound('lesson');
  // The sender may still change his mind about what it follows.
  await db(tx).lesson.updateMany({
    where: { id: input.lessonId, state: 'draft' },
    data: { followsId: input.followsId },
  });
  return false;
}

/** Locks the lesson until the transaction ends, and tells where it stands. Absent and forbidden are refused alike. */
export async function lockLesson(
  viewer: Viewer,
  tx: Tx,
  id: LessonId,
): Promise<LessonStanding & { playerId: PersonId; threadId: ThreadId; isOwn: boolean }> {
  await db(tx).$queryRaw`SELECT 1 FROM "Lesson" WHERE id = ${id}::uuid FOR UPDATE`;
  const row = await db(tx).lesson.findFirst({
    where: { AND: [{ id }, lessonsVisibleTo(viewer)] },
    select: { state: true, coachId: true, threadId: true, thread: { select: { playerId: true } } },
  });
  if (!row) throw await hiddenLesson(viewer, tx, id);
  const playerId = row.thread.playerId as PersonId;
  return {
    state: row.state,
    coachId: row.coachId as PersonId | null,
    playerId,
    threadId: row.threadId as ThreadId,
    isOwn: sendsFor(viewer).includes(playerId),
  };
}

/** Refuses everybody who may not send the lesson, as if it were absent. */
async function mustSend(viewer: Viewer, tx: Tx, id: LessonId): Promise<void> {
  const where = {
    AND: [{ id, thread: { playerId: { in: sendsFor(viewer) } } }, lessonsVisibleTo(viewer)],
  };
  if ((await db(tx).lesson.count({ where })) === 0) throw notFound('lesson');
}

/** Keeps the sender's answers and the list of clips. Clips that left the list are marked removed, never dropped. */
export async function saveDraftAnswers(
  viewer: Viewer,
  tx: Tx,
  id: LessonId,
  draft: Draft,
): Promise<ClipId[]> {
  await mustSend(viewer, tx, id);
  const { clips, ...said } = draft;
  await db(tx).lesson.update({ where: { id }, data: said });
  const removed = await db(tx).clip.findMany({
    where: { lessonId: id, removedAt: null, id: { notIn: clips.map((clip) => clip.id) } },
    select: { id: true },
  });
  await db(tx).clip.updateMany({
    where: { id: { in: removed.map((clip) => clip.id) } },
    data: { removedAt: new Date() },
  });
  for (const [position, clip] of clips.entries()) {
    const taken = await db(tx).clip.findUnique({
      where: { id: clip.id },
      select: { lessonId: true, removedAt: true },
    });
    if (taken && taken.lessonId !== id) throw notFound('clip');
    // A rate that the file itself tells is not overwritten by an open answer.
    const rate = clip.captureRate === null ? {} : { captureRate: clip.captureRate, rateIsSure: true };
    const lens = {
      isZoomed: clip.isZoomed,
      ...(clip.focal35mm === null ? {} : { focal35mm: clip.focal35mm }),
    };
    await db(tx).clip.upsert({
      where: { id: clip.id },
      create: {
        id: clip.id,
        lessonId: id,
        position,
        view: clip.view,
        uploadedById: viewer.personId,
        ...rate,
        ...lens,
      },
      update: { position, view: clip.view, ...(taken?.removedAt ? SENT_ANEW : {}), ...rate, ...lens },
    });
  }
  return removed.map((clip) => clip.id as ClipId);
}

// A clip that comes back to the list after it left it (another window still held it) lost its files meanwhile.
const SENT_ANEW = {
  removedAt: null,
  state: 'expected',
  sizeBytes: 0n,
  md5: null,
  storageKey: null,
  progress: 0,
  failCode: null,
  failDetail: null,
  readyAt: null,
} satisfies Prisma.ClipUpdateInput;

/** What is copied into a lesson when it is sent, so that a later change of the program does not touch it. */
export interface Terms {
  priceLabel: string | null;
  amountMinor: number;
  currency: string;
  promiseHours: number;
  promisedAt: Date;
  submittedAt: Date;
  policy: MoneyPolicy;
}

/** Writes the terms and gives the lesson its number in the thread. Call after `lockLesson`. Returns the number. */
export async function sealTerms(viewer: Viewer, tx: Tx, id: LessonId, terms: Terms): Promise<number> {
  await mustSend(viewer, tx, id);
  const { threadId } = await db(tx).lesson.findUniqueOrThrow({ where: { id }, select: { threadId: true } });
  // Two lessons of one thread sent at once would take the same number: the thread row is their lock.
  await db(tx).$queryRaw`SELECT 1 FROM "Thread" WHERE id = ${threadId}::uuid FOR UPDATE`;
  const last = await db(tx).lesson.aggregate({ where: { threadId }, _max: { number: true } });
  const number = (last._max.number ?? 0) + 1;
  await db(tx).lesson.update({ where: { id }, data: { ...terms, number } });
  return number;
}

// What the player's side cannot do with a lesson, whoever asks for it.
const STAFF_ONLY: ReadonlySet<LessonEventKind> = new Set([
  'taken',
  'assigned',
  'released',
  'returned',
  'reopened',
]);

/** Appends one event to a locked lesson and moves its state, or refuses with what the lesson is instead. */
export async function appendLessonEvent(
  viewer: Viewer,
  tx: Tx,
  id: LessonId,
  fact: { kind: LessonEventKind; coachId?: PersonId | null; reason?: string | null; at: Date },
): Promise<LessonStanding> {
  const row = await db(tx).lesson.findFirst({
    where: { AND: [{ id }, lessonsVisibleTo(viewer)] },
    select: { state: true, coachId: true },
  });
  if (!row || (!isStaff(viewer) && STAFF_ONLY.has(fact.kind))) throw notFound('lesson');
  const now = { state: row.state, coachId: row.coachId as PersonId | null };
  const next = advance(now, { kind: fact.kind, coachId: fact.coachId ?? null });
  if (!next) {
    throw new CagepostError(
      'wrong-state',
      `That cannot be done now: the lesson is ${STATE_WORD[row.state]}. Nothing was changed.`,
      { id, state: row.state, event: fact.kind },
    );
  }
  await db(tx).lessonEvent.create({
    data: {
      id: uuid(),
      lessonId: id,
      kind: fact.kind,
      actorId: viewer.personId,
      coachId: fact.coachId ?? null,
      reason: fact.reason ?? null,
      at: fact.at,
    },
  });
  await db(tx).lesson.update({
    where: { id },
    data: {
      state: next.state,
      coachId: next.coachId,
      ...(fact.kind === 'returned' ? { returnedAt: fact.at } : {}),
    },
  });
  return next;
}

const STATE_WORD = {
  draft: 'not sent yet',
  submitted: 'submitted',
  in_review: 'in review',
  returned: 'returned',
  closed: 'closed',
  withdrawn: 'withdrawn',
} as const;

/** Notes that somebody of the player's side opened a returned lesson; the first time since it was returned is kept. */
export async function markSeen(viewer: Viewer, id: LessonId, at: Date): Promise<void> {
  const row = await db().lesson.findFirst({
    where: { AND: [{ id, state: { in: ['returned', 'closed'] } }, lessonsVisibleTo(viewer)] },
    select: { returnedAt: true, thread: { select: { playerId: true } } },
  });
  if (!row || !sendsFor(viewer).includes(row.thread.playerId as PersonId)) return;
  await db().lessonView.upsert({
    where: { lessonId_personId: { lessonId: id, personId: viewer.personId } },
    create: { lessonId: id, personId: viewer.personId, firstSeenAt: at, lastSeenAt: at },
    update: { lastSeenAt: at },
  });
  // Returned once more since: this is the first look at what it says now.
  await db().lessonView.updateMany({
    where: { lessonId: id, personId: viewer.personId, firstSeenAt: { lt: row.returnedAt ?? at } },
    data: { firstSeenAt: at },
  });
}

/** When a lesson answers a returned one, that one is closed: the next swing has come. */
export async function closeFollowed(viewer: Viewer, tx: Tx, id: LessonId, at: Date): Promise<void> {
  await mustSend(viewer, tx, id);
  const row = await db(tx).lesson.findUniqueOrThrow({
    where: { id },
    select: { followsId: true },
  });
  if (!row.followsId) return;
  // A coach may be reopening it this very moment.
  const followed = await lockLesson(viewer, tx, row.followsId as LessonId);
  if (followed.state !== 'returned') return;
  await appendLessonEvent(viewer, tx, row.followsId as LessonId, {
    kind: 'closed',
    at,
    reason: 'The next swing was sent.',
  });
}
