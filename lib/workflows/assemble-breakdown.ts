import path from 'node:path';
import { writeSystemAudit } from '@/lib/data/audit.write';
import {
  beginAssembling,
  failAssembling,
  finishAssembling,
  isBreakdownRemoved,
  noteCaptionsAsked,
  type BreakdownToAssemble,
} from '@/lib/data/breakdowns.system';
import { transaction } from '@/lib/data/transaction';
import { agrees } from '@/lib/domain/breakdowns/agreement';
import { factsOfBreakdownFault, type BreakdownFault } from '@/lib/domain/breakdowns/breakdown-faults';
import { breakdownFolder, timelineFile, voiceFile } from '@/lib/domain/breakdowns/files';
import { durationOf, joinPieces, type PieceSource } from '@/lib/domain/breakdowns/join';
import { fitsClips, parseTimeline } from '@/lib/domain/breakdowns/parse-timeline';
import type { Timeline } from '@/lib/domain/breakdowns/timeline';
import type { System } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import type { MediaEngine } from '@/lib/platform/media/engine';
import type { VoiceFacts } from '@/lib/platform/media/messages';
import type { Ports } from './ports';
import { AssemblyFault, takeFiles, type TakeFile } from './take-files';

export type AssemblePorts = Pick<Ports, 'storage' | 'log' | 'clock' | 'queue'> & {
  engine: Pick<MediaEngine, 'joinVoice' | 'workspace'>;
  /** Whether a speech service is set up, which is then asked for captions. */
  hasCaptioner: boolean;
};

/** How it ended. `nothing-to-do`: it stands, was removed or kept anew, or is not there. */
export type AssembleResult =
  { state: 'ready' | 'nothing-to-do' } | { state: 'failed'; fault: BreakdownFault };

interface Joined {
  timeline: Timeline;
  voice: VoiceFacts | null;
  /** What it lacks, when it is ready all the same. */
  fault: BreakdownFault | null;
}

/**
 * Puts a kept breakdown together: joins the parts of each take, cuts by the recipe, writes a seekable voice and the
 * timeline. Nothing that stood is removed before the new files stand, and the parts stay. May be killed at any point
 * and run again. Throws `unavailable` after a failure that may pass by itself, so that the queue tries again later.
 */
export async function assembleBreakdown(
  ports: AssemblePorts,
  system: System,
  breakdownId: BreakdownId,
): Promise<AssembleResult> {
  const breakdown = await beginAssembling(system, breakdownId);
  if (!breakdown) {
    if (await isBreakdownRemoved(system, breakdownId))
      await ports.storage.remove(breakdownFolder(breakdownId));
    return { state: 'nothing-to-do' };
  }
  try {
    const workspace = await ports.engine.workspace(breakdownId);
    try {
      return await assembleIn(workspace.folder, ports, system, breakdownId, breakdown);
    } finally {
      await workspace.release();
    }
  } catch (error) {
    const detail = error instanceof Error ? error.message : String(error);
    return fail(ports, system, breakdownId, breakdown.take, faultOf(error), detail);
  }
}

async function assembleIn(
  folder: string,
  ports: AssemblePorts,
  system: System,
  id: BreakdownId,
  breakdown: BreakdownToAssemble,
): Promise<AssembleResult> {
  const joined = await join(folder, ports, breakdown);
  const { take } = breakdown;
  const json = Buffer.from(JSON.stringify(joined.timeline));
  const inFolder = (name: string) => `${breakdownFolder(id)}/${name}`;
  await ports.storage.put(inFolder(timelineFile(take)), { bytes: json });
  if (joined.voice)
    await ports.storage.put(inFolder(voiceFile(take, joined.voice.type)), {
      path: path.join(folder, joined.voice.file),
    });
  const isNoted = await transaction(system, async (tx) => {
    const programId = await finishAssembling(system, tx, id, {
      take,
      durationMs: joined.timeline.durationMs,
      hasVoice: joined.timeline.hasVoice,
      voiceType: joined.voice?.type ?? null,
      sizeBytes: json.length + (joined.voice?.sizeBytes ?? 0),
      fault: joined.fault,
      readyAt: ports.clock.now(),
    });
    if (!programId) return false;
    const isAsked = ports.hasCaptioner && joined.voice !== null && (await noteCaptionsAsked(system, tx, id));
    if (isAsked) await ports.queue.workOnBreakdown({ kind: 'captions', breakdownId: id }, tx);
    await writeSystemAudit(system, tx, programId, {
      action: 'breakdown.ready',
      subject: `breakdown:${id}`,
      data: { take, milliseconds: joined.timeline.durationMs, lacks: joined.fault },
    });
    return true;
  });
  await dropFiles(ports, system, id, (number) => (isNoted ? number < take : number === take));
  return { state: isNoted ? 'ready' : 'nothing-to-do' };
}

async function join(
  folder: string,
  { engine, storage }: AssemblePorts,
  breakdown: BreakdownToAssemble,
): Promise<Joined> {
  const { recipe } = breakdown;
  if (durationOf(recipe) === 0) throw new AssemblyFault('empty', 'no piece has a length');
  const [misfit] = fitsClips(recipe, breakdown.clips);
  if (misfit) throw new AssemblyFault('clip-changed', `${misfit.clipId} is ${misfit.why}`);
  const takes = await takeFiles(storage, folder, breakdown);
  const voiced = [...takes].flatMap(([segmentId, take]) =>
    take.voice ? [{ segmentId, ...take.voice }] : [],
  );

  let voice: VoiceFacts | null = null;
  let fault: BreakdownFault | null = null;
  if (voiced.length > 0) {
    const outcome = await engine.joinVoice({
      folder,
      takes: voiced.map(({ file, type }) => ({ file, type })),
      pieces: recipe.pieces.map(({ segmentId, fromMs, toMs }) => {
        const at = voiced.findIndex((one) => one.segmentId === segmentId);
        return { take: at === -1 ? null : at, fromMs, toMs };
      }),
    });
    if (!outcome.ok)
      throw new AssemblyFault(
        outcome.fault === 'unreadable' ? 'voice-unreadable' : passing(outcome.fault),
        outcome.detail,
      );
    voice = outcome.facts;
    fault = lackOf(voiced, outcome.facts, takes);
  }
  const timeline = joinPieces(recipe, sourcesOf(takes));
  return { timeline: parseTimeline({ ...timeline, hasVoice: voice !== null }), voice, fault };
}

const sourcesOf = (takes: ReadonlyMap<string, TakeFile>): Map<string, PieceSource> =>
  new Map(
    [...takes].map(([segmentId, { take, voice }]) => [
      segmentId,
      { events: take.events, durationMs: take.durationMs, hasVoice: voice !== null },
    ]),
  );

/** Whether every voice is as long as its events say; a shorter one was cut off. */
function lackOf(
  voiced: readonly { segmentId: string }[],
  facts: VoiceFacts,
  takes: ReadonlyMap<string, TakeFile>,
): BreakdownFault | null {
  const offs = voiced.map(({ segmentId }, at) => {
    const voiceMs = facts.takes[at]?.durationMs ?? 0;
    const eventsMs = takes.get(segmentId)?.take.durationMs ?? 0;
    const { isAgreed, offMs } = agrees(voiceMs, eventsMs);
    return isAgreed ? 0 : offMs;
  });
  if (offs.some((offMs) => offMs < 0)) return 'voice-cut';
  return offs.some((offMs) => offMs > 0) ? 'disagree' : null;
}

const PASSING = ['out-of-memory', 'out-of-time', 'disk-full', 'interrupted'] as const;
const passing = (fault: string): BreakdownFault => PASSING.find((one) => one === fault) ?? 'voice-unreadable';

function faultOf(error: unknown): BreakdownFault {
  if (error instanceof AssemblyFault) return error.fault;
  if (error instanceof CagepostError) {
    if (error.fault === 'storage-full') return 'disk-full';
    if (error.fault === 'too-large') return 'too-long';
    return error.fault === 'unavailable' ? 'interrupted' : 'parts-broken';
  }
  const code = error instanceof Error && 'code' in error ? error.code : '';
  return code === 'ENOSPC' || code === 'EDQUOT' ? 'disk-full' : 'interrupted';
}

async function fail(
  ports: AssemblePorts,
  system: System,
  id: BreakdownId,
  take: number,
  fault: BreakdownFault,
  detail: string,
): Promise<AssembleResult> {
  ports.log.warn({ breakdownId: id, fault, detail }, 'a breakdown could not be put together');
  await transaction(system, async (tx) => {
    const programId = await failAssembling(system, tx, id, take, fault, detail);
    if (programId)
      await writeSystemAudit(system, tx, programId, {
        action: 'breakdown.failed',
        subject: `breakdown:${id}`,
        data: { fault },
      });
  });
  await dropFiles(ports, system, id, (number) => number === take);
  const { retry, forPeople } = factsOfBreakdownFault(fault);
  if (retry === 'by-itself')
    throw new CagepostError('unavailable', forPeople, { breakdownId: id, fault, detail });
  return { state: 'failed', fault };
}

/** Removes joined files of the times it was kept that `isOver` names; parts and exports stay. Of a removed breakdown everything goes. */
async function dropFiles(
  { storage }: AssemblePorts,
  system: System,
  id: BreakdownId,
  isOver: (take: number) => boolean,
): Promise<void> {
  if (await isBreakdownRemoved(system, id)) {
    await storage.remove(breakdownFolder(id));
    return;
  }
  for (const key of await storage.list(breakdownFolder(id))) {
    const take = /\/(?:voice|timeline|sound)-(\d+)\.\w+$/.exec(key)?.[1];
    if (take !== undefined && isOver(Number(take))) await storage.remove(key);
  }
}
