import { BREAKDOWN_FAULT_FACTS, type BreakdownFault } from '@/lib/domain/breakdowns/breakdown-faults';
import { parseRecipe } from '@/lib/domain/breakdowns/parse-timeline';
import type { Recipe } from '@/lib/domain/breakdowns/timeline';
import type { System } from '@/lib/domain/people/viewer';
import type { BreakdownId, ProgramId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { clipsOfThread, threadClips } from './thread-clips';

const AT_ONCE = 500;

const passing = Object.entries(BREAKDOWN_FAULT_FACTS)
  .filter(([, facts]) => facts.retry === 'by-itself')
  .map(([fault]) => fault);

/** Breakdowns to put together: those that were kept, and those whose try failed in a way that passes. */
const toAssemble = {
  removedAt: null,
  OR: [{ state: 'assembling' as const }, { state: 'failed' as const, failCode: { in: passing } }],
};

export interface BreakdownToAssemble {
  /** How often it was kept: the number in the names of its files. */
  take: number;
  recipe: Recipe;
  parts: { segmentId: string; number: number; storageKey: string }[];
  /** The clips of its thread as they are now: an earlier swing may stand beside one of the lesson. */
  clips: { id: string; frameCount: number }[];
  /** Stored remarks of its coach that the recipe names, by id. */
  remarks: Map<string, { storageKey: string }>;
}

/** What there is to put together; null when there is nothing to do. May be called again after a killed try. */
export async function beginAssembling(_system: System, id: BreakdownId): Promise<BreakdownToAssemble | null> {
  const { count } = await db().breakdown.updateMany({
    where: { id, ...toAssemble },
    data: { state: 'assembling', failCode: null, failDetail: null },
  });
  if (count === 0) return null;
  const row = await db().breakdown.findUnique({
    where: { id },
    select: {
      takes: true,
      recipe: true,
      byId: true,
      parts: {
        where: { storageKey: { not: null } },
        select: { segmentId: true, number: true, storageKey: true },
        orderBy: [{ segmentId: 'asc' }, { number: 'asc' }],
      },
      lesson: {
        select: {
          programId: true,
          thread: { select: threadClips },
        },
      },
    },
  });
  if (!row || row.recipe === null) return null;
  const recipe = parseRecipe(row.recipe);
  const remarks = await db().remark.findMany({
    where: {
      id: { in: recipe.pieces.flatMap((piece) => (piece.kind === 'remark' ? [piece.segmentId] : [])) },
      ownerId: row.byId,
      programId: row.lesson.programId,
      storageKey: { not: null },
    },
    select: { id: true, storageKey: true },
  });
  return {
    take: row.takes,
    recipe,
    parts: row.parts.map((part) => ({ ...part, storageKey: part.storageKey ?? '' })),
    clips: clipsOfThread(row.lesson.thread),
    remarks: new Map(remarks.map((one) => [one.id, { storageKey: one.storageKey ?? '' }])),
  };
}

/** What is known of an assembled breakdown. `fault` tells what it lacks. */
export interface AssembledFacts {
  take: number;
  durationMs: number;
  hasVoice: boolean;
  voiceType: string | null;
  sizeBytes: number;
  fault: BreakdownFault | null;
  readyAt: Date;
}

/** The breakdown is ready. Answers its program, or null when it was kept anew or removed meanwhile and nothing was noted. */
export async function finishAssembling(
  _system: System,
  tx: Tx,
  id: BreakdownId,
  facts: AssembledFacts,
): Promise<ProgramId | null> {
  const { take, fault, ...known } = facts;
  const { count } = await db(tx).breakdown.updateMany({
    where: { id, state: 'assembling', takes: take, removedAt: null },
    data: { ...known, state: 'ready', readyTake: take, failCode: fault, failDetail: null },
  });
  return count === 0 ? null : programOf(tx, id);
}

/** It could not be put together; the files of an earlier time stay. Answers its program, or null as above. */
export async function failAssembling(
  _system: System,
  tx: Tx,
  id: BreakdownId,
  take: number,
  fault: BreakdownFault,
  detail: string,
): Promise<ProgramId | null> {
  const { count } = await db(tx).breakdown.updateMany({
    where: { id, state: 'assembling', takes: take, removedAt: null },
    data: { state: 'failed', failCode: fault, failDetail: detail.slice(0, 500) },
  });
  return count === 0 ? null : programOf(tx, id);
}

/** Breakdowns that were kept and do not stand yet, oldest first. */
export async function listUnassembled(_system: System): Promise<BreakdownId[]> {
  const rows = await db().breakdown.findMany({
    where: toAssemble,
    orderBy: { createdAt: 'asc' },
    take: AT_ONCE,
    select: { id: true },
  });
  return rows.map((row) => row.id as BreakdownId);
}

/** Breakdowns whose captions were asked of the speech service and have not come, oldest first. */
export async function listCaptionsAsked(_system: System): Promise<BreakdownId[]> {
  const rows = await db().breakdown.findMany({
    where: { captionState: 'asked', removedAt: null },
    orderBy: { createdAt: 'asc' },
    take: AT_ONCE,
    select: { id: true },
  });
  return rows.map((row) => row.id as BreakdownId);
}

/** Whether the breakdown was removed: then nothing of it may lie in storage. */
export async function isBreakdownRemoved(_system: System, id: BreakdownId): Promise<boolean> {
  return (await db().breakdown.count({ where: { id, removedAt: { not: null } } })) > 0;
}

/** The files that stand of a ready breakdown, or null. */
export async function readReadyFiles(
  _system: System,
  id: BreakdownId,
): Promise<{ take: number; voiceType: string | null; hasVoice: boolean; durationMs: number } | null> {
  const row = await db().breakdown.findFirst({
    where: { id, removedAt: null, readyTake: { gt: 0 } },
    select: { readyTake: true, voiceType: true, hasVoice: true, durationMs: true },
  });
  if (!row) return null;
  return {
    take: row.readyTake,
    voiceType: row.voiceType,
    hasVoice: row.hasVoice,
    durationMs: row.durationMs ?? 0,
  };
}

/** Notes that the speech service is asked, unless there are captions already; answers whether it is. */
export async function noteCaptionsAsked(_system: System, tx: Tx, id: BreakdownId): Promise<boolean> {
  const { count } = await db(tx).breakdown.updateMany({
    where: { id, removedAt: null, captionState: 'none' },
    data: { captionState: 'asked', captionFault: null },
  });
  return count > 0;
}

/** Keeps captions that the speech service made, as a draft; a coach who wrote some meanwhile keeps theirs. */
export async function keepMadeCaptions(_system: System, id: BreakdownId, vtt: string): Promise<boolean> {
  const { count } = await db().breakdown.updateMany({
    where: { id, removedAt: null, captionState: 'asked' },
    data: {
      captions: vtt,
      captionState: 'draft',
      captionFault: null,
      captionsRevision: { increment: 1 },
    },
  });
  return count > 0;
}

/** Notes why the speech service gave no captions; they are the coach's to write. */
export async function failMadeCaptions(_system: System, id: BreakdownId, reason: string): Promise<void> {
  await db().breakdown.updateMany({
    where: { id, captionState: 'asked' },
    data: { captionState: 'none', captionFault: reason },
  });
}

async function programOf(tx: Tx, id: BreakdownId): Promise<ProgramId | null> {
  const row = await db(tx).breakdown.findUnique({
    where: { id },
    select: { lesson: { select: { programId: true } } },
  });
  return (row?.lesson.programId ?? null) as ProgramId | null;
}
