import * as z from 'zod';
import type { BreakdownOnPage } from '@/app/lessons/_swing/breakdown-on-page';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { openPlayer } from '@/app/lessons/_swing/open-player';
import { chaptersOf, type Chapter } from '@/lib/domain/breakdowns/chapters';
import { fitsClips, type Misfit, parseTimeline } from '@/lib/domain/breakdowns/parse-timeline';
import type { Timeline } from '@/lib/domain/breakdowns/timeline';
import type { Cue } from '@/lib/domain/captions/cue';
import { parseVtt } from '@/lib/domain/captions/parse-vtt';
import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import { CagepostError } from '@/lib/domain/shared/errors';
import { writtenCues } from '@/lib/review/export/written-cues';
import type { Player } from '@/lib/review/player/player';
import { createReplay, type Replay } from '@/lib/review/replay/replay';

/** Everything of a breakdown but voice and pictures, which come when it is played. */
export interface LoadedBreakdown {
  timeline: Timeline;
  chapters: Chapter[];
  /** The captions, or the written sentences of a silent breakdown. */
  cues: Cue[];
  misfits: Misfit[];
}

/** Fetches and checks the timeline. Rejects with a CagepostError whose sentence can be shown. */
export async function loadBreakdown(
  breakdown: BreakdownOnPage,
  clips: readonly ClipOnPage[],
  checklist: Checklist,
  signal: AbortSignal,
): Promise<LoadedBreakdown> {
  if (!breakdown.timeline) throw new CagepostError('wrong-state', 'There is nothing to play here yet.');
  const response = await fetch(breakdown.timeline, { signal }).catch((error: unknown) => {
    if (signal.aborted) throw error;
    return null;
  });
  if (!response?.ok)
    throw new CagepostError(
      'unavailable',
      'The breakdown could not be loaded. Everything else on this page works. Try again in a moment.',
    );
  const timeline = parseTimeline(await response.json());
  return {
    timeline,
    chapters: chaptersOf(timeline, checklist),
    cues: cuesOf(breakdown.captions.vtt, timeline),
    misfits: fitsClips(
      timeline,
      clips.flatMap(({ id, frameCount, state }) =>
        state === 'ready' && frameCount !== null ? [{ id, frameCount }] : [],
      ),
    ),
  };
}

/** The captions as a list; those of a silent breakdown are what the coach wrote under the picture. */
export const cuesOf = (vtt: string, timeline: Timeline): Cue[] => {
  const { cues } = vtt === '' ? { cues: [] } : parseVtt(vtt);
  if (cues.length > 0) return [...cues];
  return writtenCues(timeline);
};

const freshSchema = z.object({ voice: z.string().nullable() });

const freshVoice = async (id: string): Promise<string> => {
  const response = await fetch(`/api/breakdowns/${id}`);
  const { voice } = response.ok ? freshSchema.parse(await response.json()) : { voice: null };
  if (!voice)
    throw new CagepostError('not-found', 'The voice cannot be loaded any more. Load the page again.');
  return voice;
};

export interface OpenBreakdown {
  replay: Replay;
  dispose(): void;
}

/**
 * Starts a replay on `stage`: to be called while a press or a key is being handled, or the browser may refuse the
 * voice. `dispose` closes voice, clips and replay.
 */
export function openBreakdown(options: {
  breakdown: BreakdownOnPage;
  loaded: LoadedBreakdown;
  clips: readonly ClipOnPage[];
  stage: HTMLElement;
  startMs: number;
  onProgress: (progress: { ms: number; furthestMs: number; isOver: boolean }) => void;
}): OpenBreakdown {
  const { breakdown, loaded, clips, stage, startMs, onProgress } = options;
  const stop = new AbortController();
  const open = new Map<string, Promise<Player>>();
  const voice = breakdown.voice ? new Audio() : null;
  if (voice && breakdown.voice) {
    voice.preload = 'auto';
    voice.src = breakdown.voice;
  }
  const replay = createReplay({
    timeline: loaded.timeline,
    stage,
    voice,
    captions: loaded.cues,
    chapters: loaded.chapters,
    startMs,
    furthestMs: breakdown.own?.furthestMs ?? 0,
    refreshVoice: () => freshVoice(breakdown.id),
    onProgress,
    players: (clipId) => {
      const misfit = loaded.misfits.find((one) => one.clipId === clipId);
      const clip = clips.find((one) => one.id === clipId);
      if (misfit || !clip)
        return Promise.reject(
          new CagepostError('not-found', misfit?.sentence ?? 'A clip of this breakdown is not here.'),
        );
      const opening = open.get(clipId) ?? openPlayer(clip, stop.signal);
      opening.catch(() => open.delete(clipId)); // the next who asks tries again
      open.set(clipId, opening);
      return opening;
    },
  });
  return {
    replay,
    dispose: () => {
      replay.dispose();
      stop.abort();
      for (const opening of open.values()) opening.then((player) => player.dispose()).catch(() => {});
      if (voice) {
        // Pausing and dropping the source is what frees the decoder in Safari.
        voice.pause();
        voice.removeAttribute('src');
        voice.load();
      }
    },
  };
}
