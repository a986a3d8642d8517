import type { Input } from 'mediabunny';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { ClipFetch } from './clip-fetch';
import type { Course, DecodeRun } from './decode-run';
import { framesWorthReady, limitsFor } from './decode-window';
import { FrameCache } from './frame-cache';
import {
  abortError,
  isAbort,
  type Direction,
  type FrameSource,
  type Held,
  type NetworkState,
  type Picture,
} from './frame-source';
import type { PacketIndex } from './packet-index';
import { PicturePool, type KeptPicture } from './picture-pool';

interface Wanted<Result> {
  index: number;
  resolve(result: Result): void;
  reject(error: unknown): void;
}

interface WantedCopy extends Wanted<ImageBitmap> {
  width: number;
}

interface Goal extends Course {
  /** Frames from here to the goal are kept as they come by. */
  keepFrom: number;
  kind: 'stage' | 'window' | 'copy';
}

export interface OpenedClip {
  input: Input;
  clip: ClipFetch;
  index: PacketIndex;
  ptsUs: readonly number[];
  width: number;
  height: number;
  /** Clockwise degrees from the coded picture to the upright one. */
  rotation: number;
  createRun(onFrame: (display: number, frame: VideoFrame) => void): DecodeRun;
  /** Limit of the frames kept, at four bytes a pixel whatever the screen's pixel ratio. */
  budgetBytes: number;
}

/**
 * Exact frames by WebCodecs. One loop feeds one decoder towards whatever is most urgent: the frame for the stage,
 * then the frames that will be asked for next, then copies for the strip.
 */
export class WebCodecsSource implements FrameSource {
  readonly engine = 'webcodecs';
  readonly width: number;
  readonly height: number;
  readonly frameCount: number;
  readonly ptsUs: readonly number[];

  private readonly cache: FrameCache<KeptPicture>;
  private readonly pool: PicturePool;
  private readonly run: DecodeRun;
  private readonly bytesEach: number;
  private readonly limits: ReturnType<typeof limitsFor>;
  private readonly converting = new Set<number>();
  private stage: Wanted<Picture> | null = null;
  private copies: WantedCopy[] = [];
  private around = 0;
  private direction: Direction = 0;
  private window: number[] = [];
  private goal: Goal | null = null;
  private failuresInARow = 0;
  private isPumping = false;
  private isDisposed = false;

  constructor(private readonly opened: OpenedClip) {
    this.width = opened.width;
    this.height = opened.height;
    this.ptsUs = opened.ptsUs;
    this.frameCount = opened.ptsUs.length;
    this.bytesEach = opened.width * opened.height * 4;
    this.cache = new FrameCache(opened.budgetBytes);
    this.pool = new PicturePool(opened);
    this.limits = limitsFor(Math.floor(opened.budgetBytes / this.bytesEach));
    this.run = opened.createRun((display, frame) => void this.keep(display, frame));
  }

  peek(index: number): Picture | null {
    return this.cache.peek(index)?.image ?? null;
  }

  frameAt(index: number, signal?: AbortSignal): Promise<Picture> {
    this.stage?.reject(abortError('A later frame was asked for.'));
    this.stage = null;
    if (this.isDisposed) return Promise.reject(abortError('The clip was closed.'));
    if (signal?.aborted) return Promise.reject(abortError('The frame is no longer wanted.'));
    if (!(index in this.ptsUs)) return Promise.reject(noSuchFrame(index, this.frameCount));

    this.cache.touch(index);
    this.cache.pin(index);
    const atHand = this.peek(index);
    if (atHand) return Promise.resolve(atHand);

    return new Promise((resolve, reject) => {
      const wanted: Wanted<Picture> = { index, resolve, reject };
      this.stage = wanted;
      signal?.addEventListener(
        'abort',
        () => {
          if (this.stage === wanted) this.stage = null;
          reject(abortError('The frame is no longer wanted.'));
        },
        { once: true },
      );
      this.pump();
    });
  }

  prefetch(index: number, direction: Direction): void {
    if (this.isDisposed) return;
    this.cache.pin(index);
    this.around = index;
    this.direction = direction;
    this.window = framesWorthReady(index, direction, this.frameCount, this.limits);
    // The nearest become the most recently used, so that the cache lets go of the farthest first.
    for (let at = this.window.length - 1; at >= 0; at--) this.cache.touch(this.window[at] ?? -1);
    this.cache.touch(index);
    this.pump();
  }

  copyAt(index: number, width: number, signal?: AbortSignal): Promise<ImageBitmap> {
    if (this.isDisposed) return Promise.reject(abortError('The clip was closed.'));
    if (signal?.aborted) return Promise.reject(abortError('The copy is no longer wanted.'));
    if (!(index in this.ptsUs)) return Promise.reject(noSuchFrame(index, this.frameCount));
    return new Promise((resolve, reject) => {
      const wanted: WantedCopy = { index, width, resolve, reject };
      this.copies.push(wanted);
      signal?.addEventListener(
        'abort',
        () => {
          this.copies = this.copies.filter((copy) => copy !== wanted);
          reject(abortError('The copy is no longer wanted.'));
        },
        { once: true },
      );
      this.pump();
    });
  }

  held(): Held {
    return this.cache.held();
  }

  onNetwork(listener: (state: NetworkState) => void): () => void {
    return this.opened.clip.onNetwork(listener);
  }

  retry(): void {
    this.opened.clip.retryNow();
  }

  dispose(): void {
    if (this.isDisposed) return;
    this.isDisposed = true;
    const closed = abortError('The clip was closed.');
    this.stage?.reject(closed);
    for (const copy of this.copies) copy.reject(closed);
    this.stage = null;
    this.copies = [];
    this.run.close();
    this.cache.clear();
    this.pool.dispose();
    this.opened.clip.dispose();
    this.opened.input.dispose();
  }

  private pump(): void {
    if (this.isPumping) return this.run.wake();
    this.isPumping = true;
    void this.work();
  }

  private async work(): Promise<void> {
    while (!this.isDisposed) {
      this.goal = this.nextGoal();
      try {
        if (!this.goal) {
          const isDone = !(await this.serveCopy());
          // What was asked for during that wait found the work still going on, and relies on it.
          if (isDone && !this.nextGoal() && this.copies.length === 0) break;
        } else if (this.converting.has(this.goal.display)) await this.run.somethingHappens();
        else await this.run.advance(this.goal);
      } catch (error) {
        this.giveUpOn(this.goal, error);
      }
    }
    // In the same turn as the last look: a flag that falls later would swallow a request.
    this.isPumping = false;
  }

  private nextGoal(): Goal | null {
    if (this.stage) return this.goalFor('stage', this.stage.index, this.direction < 0);
    const next = this.window.find((index) => !this.cache.has(index));
    if (next !== undefined) return this.goalFor('window', next, next < this.around);
    const copy = this.copies[0];
    return copy && !this.cache.has(copy.index) ? this.goalFor('copy', copy.index, true) : null;
  }

  private goalFor(kind: Goal['kind'], display: number, isLast: boolean): Goal {
    const { ahead, runIn } = this.limits;
    const last = isLast ? display : Math.min(this.frameCount - 1, Math.max(display, this.around + ahead));
    let untilPosition = 0;
    for (let at = display; at <= last; at++)
      untilPosition = Math.max(untilPosition, this.opened.index.position(at));
    return { kind, display, untilPosition, isLast, keepFrom: kind === 'copy' ? display : display - runIn };
  }

  private async keep(display: number, frame: VideoFrame): Promise<void> {
    const { goal } = this;
    const isOnTheWay = goal !== null && display >= goal.keepFrom && display <= goal.display;
    if (this.cache.has(display) || !(isOnTheWay || this.window.includes(display))) return frame.close();
    this.converting.add(display);
    try {
      const kept = await this.pool.keep(frame);
      if (this.isDisposed) return kept.close();
      this.cache.put(display, kept, this.bytesEach);
      this.failuresInARow = 0;
      if (this.stage?.index === display) {
        this.stage.resolve(kept.image);
        this.stage = null;
      }
    } catch (error) {
      if (this.stage?.index === display) this.giveUpOn(this.goal, error);
    } finally {
      frame.close();
      this.converting.delete(display);
      this.run.wake();
    }
  }

  /** Makes the first copy asked for when its frame is at hand. */
  private async serveCopy(): Promise<boolean> {
    const copy = this.copies[0];
    const picture = copy && this.peek(copy.index);
    if (!copy || !picture) return false;
    this.copies.shift();
    const height = Math.max(1, Math.round((copy.width * this.height) / this.width));
    const size = { resizeWidth: copy.width, resizeHeight: height, resizeQuality: 'medium' } as const;
    await createImageBitmap(picture, size).then(copy.resolve, copy.reject);
    return true;
  }

  /** A decoder may be taken away (another tab, a phone asleep): once in a row that is only a fresh start. */
  private giveUpOn(goal: Goal | null, error: unknown): void {
    if (isAbort(error) || this.isDisposed) return;
    const isFinal = error instanceof CagepostError;
    if (!isFinal && ++this.failuresInARow < 2) return;
    this.failuresInARow = 0;
    if (goal?.kind === 'stage') {
      this.stage?.reject(isFinal ? error : cannotDecode(goal.display, error));
      this.stage = null;
    }
    if (goal?.kind === 'copy') this.copies.shift()?.reject(error);
    // Frames made ready ahead fail silently: whoever asks for one gets the reason.
    if (goal?.kind !== 'copy') this.window = [];
  }
}

const noSuchFrame = (index: number, frameCount: number) =>
  new CagepostError('invalid', 'This clip has no such frame.', { index, frameCount });

const cannotDecode = (frame: number, cause: unknown) =>
  new CagepostError(
    'unsupported',
    'This browser stopped at a frame of this clip. Load the page again; if it stays, try another browser.',
    { frame },
    { cause },
  );
