import type { CaptionState } from '@/lib/domain/breakdowns/breakdown';
import { parseRecipe } from '@/lib/domain/breakdowns/parse-timeline';
import type { Recipe } from '@/lib/domain/breakdowns/timeline';
import { isLead, isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { BreakdownId, LessonId, PersonId, ThreadId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { breakdownsVisibleTo, lessonsVisibleTo } from './visibility';
import { clipsOfThread, threadClips } from './thread-clips';

/** Where a locked breakdown and its lesson stand. */
export type BreakdownStanding = Awaited<ReturnType<typeof lockBreakdown>>;

/** Locks a breakdown until the transaction ends, and tells where it stands. Absent and forbidden are refused alike. */
export async function lockBreakdown(viewer: Viewer, tx: Tx, id: BreakdownId) {
  await db(tx).$queryRaw`SELECT 1 FROM "Breakdown" WHERE id = ${id}::uuid FOR UPDATE`;
  const row = await db(tx).breakdown.findFirst({
    where: { AND: [{ id }, breakdownsVisibleTo(viewer)] },
    select: {
      state: true,
      byId: true,
      title: true,
      recipe: true,
      takes: true,
      readyTake: true,
      givenAt: true,
      durationMs: true,
      hasVoice: true,
      failCode: true,
      captions: true,
      captionState: true,
      captionsRevision: true,
      lesson: {
        select: {
          id: true,
          number: true,
          state: true,
          coachId: true,
          threadId: true,
          thread: { select: threadClips },
        },
      },
    },
  });
  if (!row) throw notFound('breakdown');
  const { lesson, recipe, ...facts } = row;
  return {
    ...facts,
    recipe: recipe === null ? null : parseRecipe(recipe),
    lessonId: lesson.id as LessonId,
    lessonNumber: lesson.number ?? 0,
    lessonState: lesson.state,
    coachId: lesson.coachId as PersonId | null,
    threadId: lesson.threadId as ThreadId,
    clips: clipsOfThread(lesson.thread),
  };
}

/** The same for who may change it: its coach, or a lead. Everybody else is refused as if it were absent. */
export async function lockOwnBreakdown(viewer: Viewer, tx: Tx, id: BreakdownId): Promise<BreakdownStanding> {
  const standing = await lockBreakdown(viewer, tx, id);
  if (!isStaff(viewer) || (standing.byId !== viewer.personId && !isLead(viewer))) throw notFound('breakdown');
  return standing;
}

/** Begins a breakdown under the coach's own id, or finds it there already and answers `false`. For staff. */
export async function createBreakdown(
  viewer: Viewer,
  tx: Tx,
  input: { id: BreakdownId; lessonId: LessonId; title: string; hasVoice: boolean; at: Date },
): Promise<boolean> {
  const lesson = { AND: [{ id: input.lessonId }, lessonsVisibleTo(viewer)] };
  if (!isStaff(viewer) || (await db(tx).lesson.count({ where: lesson })) === 0) throw notFound('lesson');
  const { id, lessonId, title, hasVoice, at } = input;
  const { count } = await db(tx).breakdown.createMany({
    data: { id, lessonId, title, hasVoice, byId: viewer.personId, createdAt: at },
    skipDuplicates: true,
  });
  if (count === 1) return true;
  const known = await db(tx).breakdown.findUnique({ where: { id }, select: { byId: true, lessonId: true } });
  if (known?.byId !== viewer.personId || known.lessonId !== lessonId) throw notFound('breakdown');
  return false;
}

/** Which parts of a breakdown are stored, by take. For who may change it. */
export async function listStoredParts(
  viewer: Viewer,
  tx: Tx,
  id: BreakdownId,
): Promise<{ segmentId: string; number: number }[]> {
  await lockOwnBreakdown(viewer, tx, id);
  return db(tx).breakdownPart.findMany({
    where: { breakdownId: id, storageKey: { not: null } },
    select: { segmentId: true, number: true },
  });
}

/** Keeps the recipe and puts the breakdown to assembling; answers how often it was kept now. For who may change it. */
export async function keepRecipe(
  viewer: Viewer,
  tx: Tx,
  id: BreakdownId,
  input: { recipe: Recipe; title: string },
): Promise<number> {
  await lockOwnBreakdown(viewer, tx, id);
  const row = await db(tx).breakdown.update({
    where: { id },
    data: { ...input, state: 'assembling', failCode: null, failDetail: null, takes: { increment: 1 } },
    select: { takes: true },
  });
  return row.takes;
}

/** What may be set of a breakdown by who may change it. */
export interface BreakdownChange {
  title?: string;
  state?: 'recording' | 'assembling' | 'removed';
  removedAt?: Date;
}

/** Sets facts of a breakdown; whether they may change now is decided by the workflow. For who may change it. */
export async function changeBreakdown(
  viewer: Viewer,
  tx: Tx,
  id: BreakdownId,
  change: BreakdownChange,
): Promise<void> {
  await lockOwnBreakdown(viewer, tx, id);
  const isRemoved = change.state === 'removed';
  await db(tx).breakdown.update({
    where: { id },
    data: {
      ...change,
      ...(change.state && !isRemoved ? { failCode: null, failDetail: null } : {}),
      // What was said goes with the files; that it was said stays.
      ...(isRemoved ? { captions: '', captionState: 'none', captionFault: null, sizeBytes: 0 } : {}),
    },
  });
  if (isRemoved) {
    await db(tx).breakdownPart.deleteMany({ where: { breakdownId: id } });
    await db(tx).breakdownExport.updateMany({
      where: { breakdownId: id },
      data: { state: 'cancelled', storageKey: null },
    });
  }
}

/** Gives all ready breakdowns of a lesson that were not given yet (or the one named); answers how many. For staff. */
export async function giveBreakdowns(
  viewer: Viewer,
  tx: Tx,
  lessonId: LessonId,
  at: Date,
  only?: BreakdownId,
): Promise<number> {
  if (!isStaff(viewer)) throw notFound('lesson');
  const { count } = await db(tx).breakdown.updateMany({
    where: {
      lessonId,
      lesson: lessonsVisibleTo(viewer),
      state: 'ready',
      givenAt: null,
      ...(only ? { id: only } : {}),
    },
    data: { givenAt: at },
  });
  return count;
}

/** Notes how far the viewer is. The furthest moment and that it was watched to its end are never taken back. */
export async function noteWatched(
  viewer: Viewer,
  tx: Tx,
  id: BreakdownId,
  now: { positionMs: number; isDone: boolean; at: Date },
): Promise<void> {
  const where = { AND: [{ id, removedAt: null }, breakdownsVisibleTo(viewer)] };
  if ((await db(tx).breakdown.count({ where })) === 0) throw notFound('breakdown');
  const { positionMs, at } = now;
  const key = { breakdownId: id, personId: viewer.personId };
  await db(tx).breakdownView.createMany({
    data: { ...key, positionMs, furthestMs: positionMs, updatedAt: at },
    skipDuplicates: true,
  });
  await db(tx).breakdownView.updateMany({ where: key, data: { positionMs, updatedAt: at } });
  await db(tx).breakdownView.updateMany({
    where: { ...key, furthestMs: { lt: positionMs } },
    data: { furthestMs: positionMs },
  });
  if (now.isDone)
    await db(tx).breakdownView.updateMany({
      where: { ...key, completedAt: null },
      data: { completedAt: at },
    });
}

/** Notes that the viewer needs captions; answers whether this is the first time. */
export async function askForCaptions(viewer: Viewer, tx: Tx, id: BreakdownId, at: Date): Promise<boolean> {
  await lockBreakdown(viewer, tx, id);
  const { count } = await db(tx).captionAsk.createMany({
    data: { breakdownId: id, personId: viewer.personId, at },
    skipDuplicates: true,
  });
  return count === 1;
}

/** Keeps captions when nobody saved since `baseRevision`; the new revision, or null when somebody did. For staff. */
export async function keepCaptions(
  viewer: Viewer,
  tx: Tx,
  id: BreakdownId,
  input: { baseRevision: number; vtt: string; state: CaptionState },
): Promise<number | null> {
  const standing = await lockBreakdown(viewer, tx, id);
  if (!isStaff(viewer)) throw notFound('breakdown');
  if (standing.captionsRevision !== input.baseRevision) return null;
  const captionsRevision = input.baseRevision + 1;
  await db(tx).breakdown.update({
    where: { id },
    data: { captions: input.vtt, captionState: input.state, captionFault: null, captionsRevision },
  });
  return captionsRevision;
}

/** Notes that the speech service is asked. For staff. */
export async function markCaptionsAsked(viewer: Viewer, tx: Tx, id: BreakdownId): Promise<void> {
  await lockBreakdown(viewer, tx, id);
  if (!isStaff(viewer)) throw notFound('breakdown');
  await db(tx).breakdown.update({ where: { id }, data: { captionState: 'asked', captionFault: null } });
}
