import type { FrameTable } from '@/lib/domain/clips/frame-table';
import type { ClipFetch } from './clip-fetch';
import { abortError, type FrameSource, type Held, type NetworkState } from './frame-source';
import { assertFitsTable } from './packet-index';
import { SeekableVideo } from './seekable-video';

interface Wanted {
  index: number;
  resolve(picture: HTMLVideoElement): void;
  reject(error: unknown): void;
}

/**
 * Opens a clip with a `<video>` element, for browsers without WebCodecs. Slower to go back, just as exact.
 * Rejects with a CagepostError when the clip does not fit its table or cannot be loaded.
 */
export async function openElement(options: {
  table: FrameTable;
  clip: ClipFetch;
  signal?: AbortSignal;
}): Promise<FrameSource> {
  const { table, clip, signal } = options;
  const video = new SeekableVideo(clip, table.ptsUs);
  try {
    await video.load(signal);
    const { videoWidth: width, videoHeight: height, duration } = video.element;
    // An element knows no frames: size and length are all that can be held against the table.
    const isLongEnough = duration * 1e6 > (table.ptsUs.at(-1) ?? 0);
    assertFitsTable(table, { width, height, timestampsUs: isLongEnough ? table.ptsUs : [] });
    return new ElementSource(video, table, clip);
  } catch (error) {
    video.dispose();
    throw error;
  }
}

class ElementSource implements FrameSource {
  readonly engine = 'element';
  readonly width: number;
  readonly height: number;
  readonly frameCount: number;
  readonly ptsUs: readonly number[];

  private wanted: Wanted | null = null;
  private isSeeking = false;
  private isDisposed = false;
  private copier: SeekableVideo | null = null;
  private lastCopy: Promise<unknown> = Promise.resolve();
  private whenIdle: (() => void)[] = [];

  constructor(
    private readonly video: SeekableVideo,
    table: FrameTable,
    private readonly clip: ClipFetch,
  ) {
    this.width = table.width;
    this.height = table.height;
    this.ptsUs = table.ptsUs;
    this.frameCount = table.ptsUs.length;
  }

  peek(index: number): HTMLVideoElement | null {
    return this.video.shown === index ? this.video.element : null;
  }

  frameAt(index: number, signal?: AbortSignal): Promise<HTMLVideoElement> {
    this.wanted?.reject(abortError('A later frame was asked for.'));
    this.wanted = null;
    if (this.isDisposed) return Promise.reject(abortError('The clip was closed.'));
    if (signal?.aborted) return Promise.reject(abortError('The frame is no longer wanted.'));
    return new Promise((resolve, reject) => {
      const wanted: Wanted = { index, resolve, reject };
      this.wanted = wanted;
      signal?.addEventListener(
        'abort',
        () => {
          if (this.wanted === wanted) this.wanted = null;
          reject(abortError('The frame is no longer wanted.'));
        },
        { once: true },
      );
      void this.serve();
    });
  }

  /** An element cannot decode ahead. */
  prefetch(): void {}

  async copyAt(index: number, width: number, signal?: AbortSignal): Promise<ImageBitmap> {
    const mine = this.lastCopy.then(() => this.copy(index, width, signal));
    this.lastCopy = mine.catch(() => undefined);
    return mine;
  }

  /** The element's own buffers cannot be counted. */
  held(): Held {
    return { frames: 0, bytes: 0 };
  }

  onNetwork(listener: (state: NetworkState) => void): () => void {
    return this.clip.onNetwork(listener);
  }

  retry(): void {
    this.clip.retryNow();
  }

  dispose(): void {
    if (this.isDisposed) return;
    this.isDisposed = true;
    this.wanted?.reject(abortError('The clip was closed.'));
    this.wanted = null;
    this.clip.dispose();
    this.video.dispose();
    this.copier?.dispose();
    this.goneIdle();
  }

  /** One seek at a time: a second one before the first has ended makes browsers present neither. */
  private async serve(): Promise<void> {
    if (this.isSeeking) return;
    this.isSeeking = true;
    while (this.wanted) {
      const wanted = this.wanted;
      try {
        const picture = await this.video.show(wanted.index);
        wanted.resolve(picture);
      } catch (error) {
        wanted.reject(error);
      }
      if (this.wanted === wanted) this.wanted = null;
    }
    this.isSeeking = false;
    this.goneIdle();
  }

  /** Copies have an element of their own, so that the stage keeps its frame; they wait while the stage seeks. */
  private async copy(index: number, width: number, signal?: AbortSignal): Promise<ImageBitmap> {
    while (this.isSeeking) await new Promise<void>((resolve) => this.whenIdle.push(resolve));
    if (signal?.aborted || this.isDisposed) throw abortError('The copy is no longer wanted.');
    if (!this.copier) {
      this.copier = new SeekableVideo(this.clip, this.ptsUs);
      await this.copier.load(signal);
    }
    const picture = await this.copier.show(index);
    const height = Math.max(1, Math.round((width * this.height) / this.width));
    return createImageBitmap(picture, { resizeWidth: width, resizeHeight: height, resizeQuality: 'medium' });
  }

  private goneIdle(): void {
    const waiting = this.whenIdle;
    this.whenIdle = [];
    for (const resume of waiting) resume();
  }
}
