import { ALL_FORMATS, EncodedPacketSink, Input, UrlSource } from 'mediabunny';
import type { FrameTable } from '@/lib/domain/clips/frame-table';
import type { ClipFetch } from './clip-fetch';
import { DecodeRun } from './decode-run';
import type { FrameSource } from './frame-source';
import { assertFitsTable, readPacketIndex } from './packet-index';
import { WebCodecsSource } from './webcodecs-source';

/** Packets kept after the fetch, apart from the decoded frames. */
const PACKET_CACHE_BYTES = 48 * 2 ** 20;

/**
 * Opens a clip for WebCodecs. Gives null when this browser cannot decode it that way (the caller falls back);
 * rejects with a CagepostError when the clip does not fit its table or cannot be fetched.
 */
export async function openWebCodecs(options: {
  table: FrameTable;
  clip: ClipFetch;
  budgetBytes: number;
  signal?: AbortSignal;
}): Promise<FrameSource | null> {
  if (typeof VideoDecoder === 'undefined' || typeof createImageBitmap === 'undefined') return null;
  const { table, clip, budgetBytes, signal } = options;
  const source = new UrlSource(new URL(clip.currentUrl, location.href), {
    fetchFn: clip.fetch,
    // ClipFetch itself waits and tries again; what still fails there is final, a body cut off midway is not.
    getRetryDelay: (attempts, error) => (error instanceof TypeError && attempts < 10 ? 0.3 * attempts : null),
    handleUnhandledError: () => undefined,
    maxCacheSize: PACKET_CACHE_BYTES,
  });
  const input = new Input({ source, formats: ALL_FORMATS });
  const stop = () => input.dispose();
  signal?.addEventListener('abort', stop);
  try {
    const track = await input.getPrimaryVideoTrack();
    const ownConfig = await track?.getDecoderConfig();
    const config: VideoDecoderConfig | null = ownConfig ? { ...ownConfig, optimizeForLatency: true } : null;
    if (!track || !config || !(await isDecodable(config))) {
      input.dispose();
      return null;
    }
    const sink = new EncodedPacketSink(track);
    const index = await readPacketIndex(sink, signal);
    const width = await track.getDisplayWidth();
    const height = await track.getDisplayHeight();
    assertFitsTable(table, { width, height, timestampsUs: index.timestampsUs });
    const rotation = await track.getRotation();
    const createRun = (onFrame: (display: number, frame: VideoFrame) => void) =>
      new DecodeRun(sink, index, config, onFrame);
    return new WebCodecsSource({
      input,
      clip,
      index,
      ptsUs: table.ptsUs,
      width,
      height,
      rotation,
      createRun,
      budgetBytes,
    });
  } catch (error) {
    input.dispose();
    signal?.throwIfAborted();
    throw error;
  } finally {
    signal?.removeEventListener('abort', stop);
  }
}

/** Some browsers throw here instead of saying no. */
async function isDecodable(config: VideoDecoderConfig): Promise<boolean> {
  try {
    return (await VideoDecoder.isConfigSupported(config)).supported === true;
  } catch {
    return false;
  }
}
