import { frameTableSchema, type FrameTable } from '@/lib/domain/clips/frame-table';
import { CagepostError } from '@/lib/domain/shared/errors';
import { openFrameSource } from '@/lib/review/media/open-frame-source';
import { Player } from '@/lib/review/player/player';
import { askAddresses } from './ask-addresses';
import type { ClipOnPage } from './clip-on-page';

const freshAddress = (clipId: string) => async (signal: AbortSignal) => {
  const found = await askAddresses(clipId, signal);
  if (typeof found === 'string')
    throw new CagepostError('not-found', 'This clip cannot be loaded any more. Load the page again.');
  return found.video;
};

async function readTable(clip: ClipOnPage, signal: AbortSignal): Promise<FrameTable> {
  const response = await fetch(clip.table, { signal });
  if (!response.ok)
    throw new CagepostError(
      'unavailable',
      'The frames of this clip could not be loaded. Load the page again.',
    );
  const table = frameTableSchema.parse(await response.json());
  // A rate that somebody confirmed after the clip was prepared counts: speeds go by it.
  return clip.rateIsSure ? { ...table, captureRate: clip.captureRate } : table;
}

/** Opens a ready clip for exact frames. The caller disposes of the player; it is disposed of at once when `signal` aborts. */
export async function openPlayer(clip: ClipOnPage, signal: AbortSignal): Promise<Player> {
  const table = await readTable(clip, signal);
  const source = await openFrameSource({ url: clip.video, table, signal, refreshUrl: freshAddress(clip.id) });
  if (signal.aborted) {
    source.dispose();
    signal.throwIfAborted();
  }
  return new Player(source, table);
}
