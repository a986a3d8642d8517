import type { FrameTable } from '@/lib/domain/clips/frame-table';
import { ClipFetch } from './clip-fetch';
import { openElement } from './element-source';
import type { FrameSource, NetworkState } from './frame-source';

/** About fifty pictures of 720 by 1280: below what a phone's browser kills a page for. */
const DEFAULT_BUDGET_BYTES = 192 * 2 ** 20;

export interface OpenFrameSourceOptions {
  /** Signed same-origin address of the review rendition; must answer range requests. */
  url: string;
  table: FrameTable;
  /** Opening stops when it aborts; an open source is closed by `dispose`. */
  signal?: AbortSignal;
  /** Gives a fresh signed address when this one has run out. */
  refreshUrl?: (signal: AbortSignal) => Promise<string>;
  /** Tells a lost connection already while opening. */
  onNetwork?: (state: NetworkState) => void;
  /** Most bytes of decoded frames kept. */
  budgetBytes?: number;
  /** For tests and measurements; otherwise WebCodecs where it works, else the element. */
  engine?: FrameSource['engine'];
}

/**
 * Opens the frames of a clip: by WebCodecs, or by a `<video>` element where a browser has none or cannot decode
 * this clip with it. Rejects with a CagepostError: `conflict` when clip and table differ, `not-found` or
 * `unavailable` when it cannot be fetched, `unsupported` when no engine can show it.
 */
export async function openFrameSource(options: OpenFrameSourceOptions): Promise<FrameSource> {
  const { url, table, signal, refreshUrl, onNetwork, engine, budgetBytes = DEFAULT_BUDGET_BYTES } = options;
  signal?.throwIfAborted();
  const clip = new ClipFetch({ url, refreshUrl });
  if (onNetwork) clip.onNetwork(onNetwork);
  try {
    if (engine !== 'element') {
      // Loaded when a clip is opened, not with every page.
      const { openWebCodecs } = await import('./open-webcodecs');
      const source = await openWebCodecs({ table, clip, budgetBytes, signal });
      if (source) return source;
    }
    return await openElement({ table, clip, signal });
  } catch (error) {
    clip.dispose();
    throw error;
  }
}
