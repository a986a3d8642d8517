import type { ClipFault } from '@/lib/domain/clips/clip';
import { CLIP_FAULT_FACTS } from '@/lib/domain/clips/clip-faults';
import type { PreparedFacts } from '@/lib/domain/clips/prepared';
import type { System } from '@/lib/domain/people/viewer';
import type { ClipId, ProgramId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { readyRow } from './ready-row';

export interface ClipToPrepare {
  storageKey: string;
  declaredType: string;
  /** Capture rate that somebody confirmed or that an earlier try read from the file; null when open. */
  knownRate: number | null;
  /** The clip of a drill is shown to many, and nobody in it was asked about being heard. */
  isSilent: boolean;
}

const triedAgainByItself = Object.entries(CLIP_FAULT_FACTS)
  .filter(([, facts]) => facts.retry === 'by-itself')
  .map(([fault]) => fault);
const refused = Object.entries(CLIP_FAULT_FACTS)
  .filter(([, facts]) => !facts.keepsOriginal)
  .map(([fault]) => fault);

/**
 * Puts a stored clip into preparing and tells what there is to prepare; null when there is nothing to do (ready,
 * refused, removed, absent). A clip whose preparing was killed, or failed in a way that passes, is taken up again.
 */
export async function beginPreparing(_system: System, id: ClipId): Promise<ClipToPrepare | null> {
  const { count } = await db().clip.updateMany({
    where: {
      id,
      removedAt: null,
      storageKey: { not: null },
      OR: [
        { state: { in: ['uploaded', 'preparing'] } },
        { state: 'failed', failCode: { in: triedAgainByItself } },
      ],
    },
    data: { state: 'preparing', progress: 0, failCode: null, failDetail: null },
  });
  if (count === 0) return null;
  const row = await db().clip.findUnique({
    where: { id },
    select: { storageKey: true, declaredType: true, captureRate: true, rateIsSure: true, drillId: true },
  });
  if (!row?.storageKey) return null;
  return {
    storageKey: row.storageKey,
    declaredType: row.declaredType,
    knownRate: row.rateIsSure ? row.captureRate : null,
    isSilent: row.drillId !== null,
  };
}

/** Tells how far preparing is, 0 to 100. */
export async function noteProgress(_system: System, id: ClipId, percent: number): Promise<void> {
  await db().clip.updateMany({ where: { id, state: 'preparing' }, data: { progress: percent } });
}

/** Keeps the capture rate that the phone wrote, before it is wiped from the file; a confirmed one stays. */
export async function noteTaggedRate(_system: System, id: ClipId, rate: number): Promise<void> {
  await db().clip.updateMany({
    where: { id, rateIsSure: false },
    data: { captureRate: rate, rateIsSure: true },
  });
}

/** Keeps the lens that the phone wrote, in millimetres of a 35 mm camera; one that the sender's browser read stays. */
export async function noteTaggedLens(_system: System, id: ClipId, focal35mm: number): Promise<void> {
  await db().clip.updateMany({ where: { id, focal35mm: null }, data: { focal35mm } });
}

/** Notes where and what the original is after its location data was taken out. */
export async function noteOriginal(
  _system: System,
  id: ClipId,
  facts: { storageKey: string; md5?: string },
): Promise<void> {
  await db().clip.updateMany({ where: { id }, data: facts });
}

/** The clip is ready. Answers its program, or null when it was removed or sent anew meanwhile and nothing was noted. */
export async function finishPreparing(
  _system: System,
  tx: Tx,
  id: ClipId,
  facts: PreparedFacts,
  readyAt: Date,
): Promise<ProgramId | null> {
  const { count } = await db(tx).clip.updateMany({
    where: { id, state: 'preparing', removedAt: null },
    data: { ...readyRow(facts), readyAt },
  });
  if (count === 0) return null;
  // Somebody may have confirmed another rate while the clip was being prepared.
  await db(tx).clip.updateMany({
    where: { id, rateIsSure: false },
    data: { captureRate: facts.captureRate, rateIsSure: facts.rateIsSure },
  });
  return programOf(tx, id);
}

/** The clip could not be prepared. Answers its program, or null when it was removed or sent anew meanwhile. */
export async function failPreparing(
  _system: System,
  tx: Tx,
  id: ClipId,
  fault: ClipFault,
  detail: string,
): Promise<ProgramId | null> {
  const { count } = await db(tx).clip.updateMany({
    where: { id, state: 'preparing', removedAt: null },
    data: { state: 'failed', progress: 0, failCode: fault, failDetail: detail.slice(0, 500) },
  });
  return count === 0 ? null : programOf(tx, id);
}

/** True when the clip was refused for good while its original still lies in storage: what is refused is not half-kept. */
export async function isRefusedButStored(_system: System, id: ClipId): Promise<boolean> {
  const where = { id, state: 'failed' as const, failCode: { in: refused }, storageKey: { not: null } };
  return (await db().clip.count({ where })) > 0;
}

/** Notes that the original of a refused clip lies in storage no more. */
export async function forgetOriginal(_system: System, id: ClipId): Promise<void> {
  await db().clip.updateMany({
    where: { id, state: 'failed', failCode: { in: refused } },
    data: { storageKey: null, md5: null },
  });
}

async function programOf(tx: Tx, id: ClipId): Promise<ProgramId | null> {
  const row = await db(tx).clip.findUnique({
    where: { id },
    select: { lesson: { select: { programId: true } }, drill: { select: { programId: true } } },
  });
  return (row?.lesson?.programId ?? row?.drill?.programId ?? null) as ProgramId | null;
}
