import type { BreakdownOnPage } from '@/app/lessons/_swing/breakdown-on-page';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { openPlayer } from '@/app/lessons/_swing/open-player';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { CaptionsIn } from '@/lib/review/export/export-breakdown';
import type { LoadedBreakdown } from './open-breakdown';

const ASK_AGAIN_MS = 2000;
const MOST_ASKS = 60;

/** Makes the file in this browser; rejects as `exportBreakdown` does. */
export async function makeFileHere(options: {
  breakdown: BreakdownOnPage;
  loaded: LoadedBreakdown;
  clips: readonly ClipOnPage[];
  how: CaptionsIn;
  onProgress: (part: number) => void;
  signal: AbortSignal;
}): Promise<Blob> {
  const { breakdown, loaded, clips, how, onProgress, signal } = options;
  const [misfit] = loaded.misfits;
  if (misfit) throw new CagepostError('conflict', `${misfit.sentence} A file of it cannot be made any more.`);
  // The engine for files is loaded when one is made, not with every lesson.
  const { exportBreakdown } = await import('@/lib/review/export/export-breakdown');
  return exportBreakdown({
    timeline: loaded.timeline,
    voice: breakdown.voice ? await fetchFile(breakdown.voice, signal) : null,
    voiceAsAac: () => fetchFile(`/api/breakdowns/${breakdown.id}/voice.m4a`, signal),
    openSource: async (clipId) => {
      const clip = clips.find((one) => one.id === clipId);
      if (!clip) throw new CagepostError('not-found', 'A clip of this breakdown is not here any more.');
      return (await openPlayer(clip, signal)).source;
    },
    captions: loaded.cues.length > 0 ? { vtt: breakdown.captions.vtt, cues: loaded.cues } : null,
    how,
    onProgress,
    signal,
  });
}

/** A file that the server may still be making: then it is asked for again. */
async function fetchFile(address: string, signal: AbortSignal): Promise<Blob> {
  for (let ask = 0; ask < MOST_ASKS; ask++) {
    const response = await fetch(address, { signal });
    if (response.status === 200) return response.blob();
    if (response.status !== 503 && response.status !== 202) break;
    await new Promise((resolve) => setTimeout(resolve, ASK_AGAIN_MS));
    signal.throwIfAborted();
  }
  throw new CagepostError(
    'unavailable',
    'The voice could not be loaded, so no file was made. The breakdown itself is as it was. Try again in a moment.',
  );
}

/** A name for the file that says what it is, without characters that a file system refuses. */
export const fileNameOf = (title: string): string =>
  `${
    title
      .normalize('NFKD')
      .replace(/[^\w -]+/g, '')
      .trim()
      .replace(/\s+/g, '-')
      .toLowerCase() || 'breakdown'
  }.mp4`;
