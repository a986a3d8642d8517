import path from 'node:path';
import { writeSystemAudit } from '@/lib/data/audit.write';
import {
  beginPreparing,
  failPreparing,
  finishPreparing,
  forgetOriginal,
  isRefusedButStored,
  noteOriginal,
  noteProgress,
  noteTaggedLens,
  noteTaggedRate,
  type ClipToPrepare,
} from '@/lib/data/clips.system';
import { readDrillClipSide, showOnDrill } from '@/lib/data/drill-clips.system';
import { readClipSide } from '@/lib/data/due.system';
import { transaction, type Tx } from '@/lib/data/transaction';
import type { ClipFault } from '@/lib/domain/clips/clip';
import { factsOfFault } from '@/lib/domain/clips/clip-faults';
import { DERIVED_FILES, type PreparedFacts } from '@/lib/domain/clips/prepared';
import { noticePlan } from '@/lib/domain/notices/plan';
import { dayIn } from '@/lib/domain/people/age';
import type { System } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { ClipId } from '@/lib/domain/shared/ids';
import type { MediaEngine, PrepareOutcome } from '@/lib/platform/media/engine';
import type { Ports } from './ports';
import { tell } from './tell';

export type PreparePorts = Pick<Ports, 'storage' | 'log' | 'clock'> & {
  engine: Pick<MediaEngine, 'prepare' | 'workspace'>;
};

/** How preparing ended. `nothing-to-do`: the clip was ready, refused, removed or is not there. */
export type PrepareClipResult = { state: 'ready' | 'nothing-to-do' } | { state: 'failed'; fault: ClipFault };

/** Progress is told in steps of so many percent: a screen that asks every few seconds sees no more. */
const PROGRESS_STEP = 3;

const folderOf = (clipId: ClipId) => `clips/${clipId}`;
/** Where an original lies whose location data could not be taken out; it is never given out. */
const asideKey = (clipId: ClipId, key: string) => `${folderOf(clipId)}/aside${path.extname(key)}`;

/**
 * Prepares one stored clip: makes the derived files beside the original, takes the location out of the original, and
 * notes `ready` or `failed` with its reason. May be killed at any point and run again; running it twice does no harm.
 * Throws `unavailable` after a failure that may pass by itself, so that the queue tries again later.
 */
export async function prepareClip(
  ports: PreparePorts,
  system: System,
  clipId: ClipId,
): Promise<PrepareClipResult> {
  const clip = await beginPreparing(system, clipId);
  if (!clip) {
    if (await isRefusedButStored(system, clipId)) await dropRefused(ports, system, clipId);
    return { state: 'nothing-to-do' };
  }
  try {
    const workspace = await ports.engine.workspace(clipId);
    try {
      return await prepareIn(workspace.folder, ports, system, clipId, clip);
    } finally {
      await workspace.release();
    }
  } catch (error) {
    if (error instanceof CagepostError && error.fault === 'unavailable') throw error;
    const detail = error instanceof Error ? error.message : String(error);
    return await fail(ports, system, clipId, isFull(error) ? 'disk-full' : 'interrupted', detail);
  }
}

async function prepareIn(
  folder: string,
  ports: PreparePorts,
  system: System,
  clipId: ClipId,
  clip: ClipToPrepare,
): Promise<PrepareClipResult> {
  const { storage, engine } = ports;
  const key = await whereItLies(ports, clipId, clip.storageKey);
  if (!key) return fail(ports, system, clipId, 'cut-off', 'the original is not in storage');

  const local = await storage.local(key);
  let outcome: PrepareOutcome;
  try {
    outcome = await engine.prepare({
      original: local.path,
      folder,
      declaredType: clip.declaredType,
      knownRate: clip.knownRate,
      isSilent: clip.isSilent,
      onProgress: inSteps((percent) => noteProgress(system, clipId, percent).catch(() => {})),
    });
    if (outcome.original)
      await keepOriginal(ports, system, clipId, key, folder, local.path, outcome.original);
  } finally {
    await local.release();
  }
  if (!outcome.ok) return fail(ports, system, clipId, outcome.fault, outcome.detail);
  for (const name of DERIVED_FILES)
    await storage.put(`${folderOf(clipId)}/${name}`, { path: path.join(folder, name) });
  return finish(ports, system, clipId, outcome.facts);
}

/** The key of the original; a run that was killed while it put it aside may have left it there. */
async function whereItLies({ storage }: PreparePorts, clipId: ClipId, key: string): Promise<string | null> {
  if ((await storage.size(key)) !== null) return key;
  const aside = asideKey(clipId, key);
  return (await storage.size(aside)) !== null ? aside : null;
}

async function keepOriginal(
  { storage, log }: PreparePorts,
  system: System,
  clipId: ClipId,
  key: string,
  folder: string,
  localPath: string,
  facts: NonNullable<PrepareOutcome['original']>,
): Promise<void> {
  // First rate and lens: they stand in the metadata that goes.
  if (facts.taggedRate !== null) await noteTaggedRate(system, clipId, facts.taggedRate);
  if (facts.focal35mm !== null) await noteTaggedLens(system, clipId, facts.focal35mm);
  if (facts.original === 'wiped') {
    await storage.put(key, { path: path.join(folder, facts.wipedFile) });
    await noteOriginal(system, clipId, { storageKey: key, md5: facts.md5 });
  }
  const aside = asideKey(clipId, key);
  if (facts.original !== 'aside' || key === aside) return;
  log.warn({ clipId }, 'the location could not be taken out of an original: it is put aside');
  await storage.put(aside, { path: localPath });
  await noteOriginal(system, clipId, { storageKey: aside });
  await storage.remove(key);
}

async function finish(
  ports: PreparePorts,
  system: System,
  clipId: ClipId,
  facts: PreparedFacts,
): Promise<PrepareClipResult> {
  const isNoted = await transaction(system, async (tx) => {
    const now = ports.clock.now();
    const programId = await finishPreparing(system, tx, clipId, facts, now);
    if (!programId) return false;
    const subject = `clip:${clipId}`;
    const data = { frames: facts.frameCount };
    await writeSystemAudit(system, tx, programId, { action: 'clip.ready', subject, data });
    const onDrill = await showOnDrill(system, tx, clipId, now);
    if (onDrill === 'shown')
      await writeSystemAudit(system, tx, programId, { action: 'drill.clip-shown', subject });
    return onDrill !== 'unwanted';
  });
  if (isNoted) return { state: 'ready' };
  await dropDerived(ports, clipId);
  return { state: 'nothing-to-do' };
}

async function fail(
  ports: PreparePorts,
  system: System,
  clipId: ClipId,
  fault: ClipFault,
  detail: string,
): Promise<PrepareClipResult> {
  ports.log.warn({ clipId, fault, detail }, 'a clip could not be prepared');
  const { keepsOriginal, retry, forPeople } = factsOfFault(fault);
  await transaction(system, async (tx) => {
    const programId = await failPreparing(system, tx, clipId, fault, detail);
    if (programId)
      await writeSystemAudit(system, tx, programId, {
        action: 'clip.failed',
        subject: `clip:${clipId}`,
        data: { fault },
      });
    if (programId && retry !== 'by-itself') await tellSender(ports, system, tx, clipId, forPeople);
  });
  if (keepsOriginal) await dropDerived(ports, clipId);
  else await dropRefused(ports, system, clipId);
  if (retry === 'by-itself') throw new CagepostError('unavailable', forPeople, { clipId, fault, detail });
  return { state: 'failed', fault };
}

// Their side alone: a coach sees it on the desk. Of a drill it is the coach who sent it.
async function tellSender(
  { clock }: PreparePorts,
  system: System,
  tx: Tx,
  clipId: ClipId,
  reason: string,
): Promise<void> {
  const sent = await readDrillClipSide(system, tx, clipId);
  if (sent) return tellCoach({ clock }, system, tx, reason, sent);
  const clip = await readClipSide(system, tx, clipId);
  if (!clip) return;
  const { program, side, lessonId } = clip;
  const now = clock.now();
  const facts = { programName: program.name, playerName: side.player.name };
  const data = { ...facts, reason, path: `/lessons/${lessonId}` };
  await tell(
    system,
    tx,
    { kind: 'clip-failed', data },
    {
      programId: program.id,
      playerId: side.player.id,
      to: noticePlan(side, now, dayIn(program.timeZone, now), program.timeZone),
      now,
    },
  );
}

async function tellCoach(
  { clock }: Pick<PreparePorts, 'clock'>,
  system: System,
  tx: Tx,
  reason: string,
  { program, drillTitle, sender }: NonNullable<Awaited<ReturnType<typeof readDrillClipSide>>>,
): Promise<void> {
  const now = clock.now();
  const data = { programName: program.name, drillTitle, reason, path: '/program/drills' };
  const to = [{ ...sender, at: now }];
  await tell(
    system,
    tx,
    { kind: 'drill-clip-failed', data },
    { programId: program.id, playerId: null, to, now },
  );
}

async function dropDerived({ storage }: PreparePorts, clipId: ClipId): Promise<void> {
  for (const name of DERIVED_FILES) await storage.remove(`${folderOf(clipId)}/${name}`);
}

async function dropRefused({ storage }: PreparePorts, system: System, clipId: ClipId): Promise<void> {
  await storage.remove(folderOf(clipId));
  await forgetOriginal(system, clipId);
}

const isFull = (error: unknown): boolean =>
  error instanceof CagepostError
    ? error.fault === 'storage-full'
    : error instanceof Error && 'code' in error && (error.code === 'ENOSPC' || error.code === 'EDQUOT');

/** Calls on when the value has grown by a step, and never while an earlier call is still on its way. */
function inSteps(tell: (percent: number) => Promise<void>): (percent: number) => void {
  let told = 0;
  let isTelling = false;
  return (percent) => {
    if (isTelling || percent < told + PROGRESS_STEP) return;
    told = percent;
    isTelling = true;
    void tell(percent).finally(() => {
      isTelling = false;
    });
  };
}
