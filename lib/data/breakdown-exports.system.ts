import type { System } from '@/lib/domain/people/viewer';
import type { BreakdownId, ClipId, ExportId } from '@/lib/domain/shared/ids';
import { db } from './client';
import { clipsOfThread, threadClips } from './thread-clips';

const AT_ONCE = 100;
const wanted = { state: { in: ['waiting', 'working'] }, breakdown: { removedAt: null } };

export interface ExportToMake {
  breakdownId: BreakdownId;
  captionsIn: string;
  vtt: string;
  take: number;
  voiceType: string | null;
  /** The ready clips of its thread. */
  clips: { id: ClipId; width: number; height: number; frameCount: number }[];
}

/** What there is to make; null when nobody wants it any more or there is nothing to make it of. */
export async function beginExport(_system: System, id: ExportId): Promise<ExportToMake | null> {
  const { count } = await db().breakdownExport.updateMany({
    where: { id, ...wanted },
    data: { state: 'working', progress: 0, failCode: null },
  });
  if (count === 0) return null;
  const row = await db().breakdownExport.findUnique({
    where: { id },
    select: {
      captions: true,
      breakdown: {
        select: {
          id: true,
          readyTake: true,
          voiceType: true,
          captions: true,
          lesson: { select: { thread: { select: threadClips } } },
        },
      },
    },
  });
  if (!row || row.breakdown.readyTake === 0) return null;
  const { breakdown } = row;
  return {
    breakdownId: breakdown.id as BreakdownId,
    captionsIn: row.captions,
    vtt: breakdown.captions,
    take: breakdown.readyTake,
    voiceType: breakdown.voiceType,
    clips: clipsOfThread(breakdown.lesson.thread)
      .filter((clip) => clip.state === 'ready')
      .map(({ id, width, height, frameCount }) => ({
        id: id as ClipId,
        width: width ?? 1,
        height: height ?? 1,
        frameCount,
      })),
  };
}

/** Tells how far it is, 0 to 100; false when it was cancelled or the breakdown removed. */
export async function noteExportProgress(_system: System, id: ExportId, progress: number): Promise<boolean> {
  const { count } = await db().breakdownExport.updateMany({
    where: { id, state: 'working', breakdown: { removedAt: null } },
    data: { progress },
  });
  return count > 0;
}

/** The file is there; false when it was cancelled or the breakdown removed meanwhile and nothing was noted. */
export async function finishExport(
  _system: System,
  id: ExportId,
  facts: { storageKey: string; at: Date },
): Promise<boolean> {
  const { count } = await db().breakdownExport.updateMany({
    where: { id, state: 'working', breakdown: { removedAt: null } },
    data: { state: 'ready', progress: 100, storageKey: facts.storageKey, readyAt: facts.at },
  });
  return count > 0;
}

/** Notes in a sentence why it could not be made. */
export async function failExport(_system: System, id: ExportId, sentence: string): Promise<void> {
  await db().breakdownExport.updateMany({
    where: { id, state: 'working' },
    data: { state: 'failed', failCode: sentence },
  });
}

/** Exports that were asked for and are not made, oldest first. */
export async function listUnmadeExports(_system: System): Promise<ExportId[]> {
  const rows = await db().breakdownExport.findMany({
    where: wanted,
    orderBy: { createdAt: 'asc' },
    take: AT_ONCE,
    select: { id: true },
  });
  return rows.map((row) => row.id as ExportId);
}
