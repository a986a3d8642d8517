import type { FrameTable } from '@/lib/domain/clips/frame-table';
import { CagepostError } from '@/lib/domain/shared/errors';
import { clampFrame } from '../media/frame-lookup';
import {
  isAbort,
  type Direction,
  type FrameSource,
  type NetworkState,
  type Picture,
} from '../media/frame-source';
import { screenClock, type PlayClock } from './clock';
import { playheadAt, stretchOf, type Loop, type Speed } from './playhead';
import { SnapshotStore } from './snapshot-store';
import { Stills } from './stills';

export type PlayerMode = 'paused' | 'playing' | 'scrubbing';

export interface PlayerSnapshot {
  mode: PlayerMode;
  /** The frame asked for last. Differs from `shownFrame` while its picture is on the way. */
  wantedFrame: number;
  /** The frame whose picture is really drawn; null before the first. Marks are laid over this one. */
  shownFrame: number | null;
  speed: Speed;
  loop: Loop | null;
  network: NetworkState;
  /** Why the wanted frame cannot be shown; cleared by the next command or `retry`. */
  fault: CagepostError | null;
}

/** Draws the picture of one frame, at once; it must not be kept. */
export type PicturePainter = (picture: Picture, index: number) => void;

/** A picture this late while playing (milliseconds) makes the play wait for it instead of running on. */
const LATEST_MS = 120;
/** This many frames before a loop turns over its first frames are made ready. */
const NEAR_LOOP_END = 6;

/**
 * Shows exact frames of one clip: paused, playing or scrubbing. It takes the source over and disposes of it. The
 * latest command wins; `shownFrame` changes only when a picture was handed to a painter.
 */
export class Player {
  private readonly store: SnapshotStore<PlayerSnapshot>;
  private readonly painters = new Set<PicturePainter>();
  private readonly stills: Stills;
  /** Microseconds of the file that pass in one real microsecond; see `stretchOf`. */
  readonly stretch: number;
  private readonly stopListening: (() => void)[];
  private direction: Direction = 0;
  /** The request that the source has not answered yet. */
  private pending: { index: number; since: number; stop: AbortController } | null = null;
  private anchor = { ms: 0, us: 0 };
  private cancelTurn: (() => void) | null = null;
  private jogRest = 0;
  private isDisposed = false;

  constructor(
    readonly source: FrameSource,
    table: FrameTable,
    private readonly clock: PlayClock = screenClock,
  ) {
    this.stretch = stretchOf(table);
    this.stills = new Stills(source);
    this.store = new SnapshotStore<PlayerSnapshot>({
      mode: 'paused',
      wantedFrame: 0,
      shownFrame: null,
      speed: 1,
      loop: null,
      network: 'ok',
      fault: null,
    });
    this.stopListening = [
      source.onNetwork((network) => this.store.set({ network })),
      clock.onReturn(() => this.comeBack()),
    ];
    this.want(0);
  }

  get getSnapshot() {
    return this.store.getSnapshot;
  }

  get subscribe() {
    return this.store.subscribe;
  }

  /** Calls the painter with each picture from now on, and at once when one is at hand. */
  onPicture(painter: PicturePainter): () => void {
    this.painters.add(painter);
    this.want(this.store.getSnapshot().wantedFrame);
    return () => this.painters.delete(painter);
  }

  /** Draws into the canvas at the size of the rendition; zoom it by transform, not by size. */
  attach(canvas: HTMLCanvasElement): () => void {
    const { width, height } = this.source;
    if (canvas.width !== width) canvas.width = width;
    if (canvas.height !== height) canvas.height = height;
    // Opaque and without waiting for the page's next turn where the browser can.
    const context = canvas.getContext('2d', { alpha: false });
    if (!context) throw new CagepostError('unsupported', 'This browser gave no canvas to draw on.');
    return this.onPicture((picture) => context.drawImage(picture, 0, 0, width, height));
  }

  /** Pauses on this frame (rounded and held inside the clip). */
  goTo(index: number): void {
    this.jogRest = 0;
    this.pauseAt(index);
  }

  /** Pauses and goes `count` frames on (negative: back) from the frame asked for last. */
  step(count: number): void {
    const { mode, shownFrame, wantedFrame } = this.store.getSnapshot();
    this.goTo((mode === 'playing' ? (shownFrame ?? wantedFrame) : wantedFrame) + Math.trunc(count));
  }

  /** Goes on by parts of a frame, as a wheel or a dial gives them; whole frames are stepped, the rest is kept. */
  jog(frames: number): void {
    if (!Number.isFinite(frames)) return;
    this.jogRest += frames;
    const whole = Math.trunc(this.jogRest);
    const rest = this.jogRest - whole;
    if (whole !== 0) this.step(whole);
    this.jogRest = rest;
  }

  scrubStart(): void {
    this.stopTurning();
    this.store.set({ mode: 'scrubbing' });
  }

  /** While scrubbing a picture that is on the way is still shown, then the newest: otherwise a fast hand sees none. */
  scrubMove(index: number): void {
    if (this.store.getSnapshot().mode !== 'scrubbing') this.scrubStart();
    this.want(index);
  }

  scrubEnd(): void {
    if (this.store.getSnapshot().mode === 'scrubbing') this.pauseAt(this.store.getSnapshot().wantedFrame);
  }

  /** Plays by the frames' own times; from the start when at the end, from the loop's start when outside it. */
  play(): void {
    const { mode, wantedFrame, loop } = this.store.getSnapshot();
    if (mode === 'playing' || this.isDisposed) return;
    const isAtEnd = wantedFrame >= this.source.frameCount - 1;
    const isOutside = loop !== null && (wantedFrame < loop.from || wantedFrame >= loop.to);
    const from = loop && isOutside ? loop.from : isAtEnd && !loop ? 0 : wantedFrame;
    this.jogRest = 0;
    this.store.set({ mode: 'playing', fault: null });
    this.anchorAt(from);
    this.turn();
  }

  /** Stops on the frame that is seen. */
  pause(): void {
    const { mode, shownFrame, wantedFrame } = this.store.getSnapshot();
    this.pauseAt(mode === 'playing' ? (shownFrame ?? wantedFrame) : wantedFrame);
  }

  setSpeed(speed: Speed): void {
    if (this.store.getSnapshot().mode === 'playing')
      this.anchor = { ms: this.clock.now(), us: this.playedUs() };
    this.store.set({ speed });
  }

  /** Plays round and round between two frames, both shown; null plays to the end. Rejects a loop of one frame. */
  setLoop(loop: Loop | null): void {
    if (!loop) return this.store.set({ loop: null });
    const ends = [loop.from, loop.to].map((index) => clampFrame(index, this.source.frameCount));
    const [from, to] = [Math.min(...ends), Math.max(...ends)];
    if (from === to) throw new CagepostError('invalid', 'A loop needs two different frames.', { ...loop });
    this.store.set({ loop: { from, to } });
    if (this.store.getSnapshot().mode === 'playing') {
      const { wantedFrame } = this.store.getSnapshot();
      this.anchorAt(wantedFrame < from || wantedFrame > to ? from : wantedFrame);
    }
  }

  /** Asks again for the wanted frame and tries a lost connection at once. */
  retry(): void {
    this.store.set({ fault: null });
    this.source.retry();
    this.want(this.store.getSnapshot().wantedFrame);
  }

  /**
   * Small pictures of exact frames, nearest to the wanted frame first, each given to `draw` as soon as it is there.
   * The bitmap stays the player's: draw it at once. Made only when the stage needs nothing. Resolves when all were
   * given or `signal` aborted.
   */
  thumbnails(
    indices: readonly number[],
    width: number,
    draw: (index: number, bitmap: ImageBitmap) => void,
    signal?: AbortSignal,
  ): Promise<void> {
    const { wantedFrame } = this.store.getSnapshot();
    const near = [...indices].sort((a, b) => Math.abs(a - wantedFrame) - Math.abs(b - wantedFrame));
    return this.stills.thumbnails(near, width, draw, signal);
  }

  /** A JPEG of the exact frame, at most `maxWidth` pixels wide and never wider than the rendition. */
  still(index: number, maxWidth: number, signal?: AbortSignal): Promise<Blob> {
    return this.stills.still(index, maxWidth, signal);
  }

  dispose(): void {
    if (this.isDisposed) return;
    this.isDisposed = true;
    this.stopTurning();
    for (const stop of this.stopListening) stop();
    this.painters.clear();
    this.store.clear();
    this.stills.dispose();
    this.source.dispose();
  }

  private pauseAt(index: number): void {
    this.stopTurning();
    this.store.set({ mode: 'paused', fault: null });
    this.want(index);
  }

  private want(index: number): void {
    if (this.isDisposed) return;
    const { wantedFrame, mode, loop } = this.store.getSnapshot();
    const wanted = clampFrame(index, this.source.frameCount);
    if (mode === 'playing') this.direction = 1;
    else if (wanted !== wantedFrame) this.direction = wanted > wantedFrame ? 1 : -1;
    this.store.set({ wantedFrame: wanted });

    const atHand = this.source.peek(wanted);
    if (atHand) {
      this.pending?.stop.abort();
      this.pending = null;
      this.show(atHand, wanted);
    } else if (!this.pending || mode === 'paused') this.request(wanted);

    const isNearLoopEnd = mode === 'playing' && loop !== null && loop.to - wanted < NEAR_LOOP_END;
    this.source.prefetch(isNearLoopEnd ? loop.from - 1 : wanted, this.direction);
  }

  private request(index: number): void {
    if (this.pending?.index === index) return;
    const pending = { index, since: this.clock.now(), stop: new AbortController() };
    this.pending = pending;
    this.source.frameAt(index, pending.stop.signal).then(
      (picture) => {
        if (this.pending !== pending || this.isDisposed) return;
        this.pending = null;
        this.show(picture, index);
        const { mode, wantedFrame } = this.store.getSnapshot();
        if (mode === 'playing' && this.clock.now() - pending.since > LATEST_MS) this.anchorAt(index);
        else if (wantedFrame !== index) this.want(wantedFrame);
      },
      (error: unknown) => {
        if (this.pending !== pending || this.isDisposed) return;
        this.pending = null;
        if (isAbort(error)) return;
        this.stopTurning();
        this.store.set({ mode: 'paused', fault: asFault(error) });
      },
    );
  }

  private show(picture: Picture, index: number): void {
    if (this.painters.size === 0) return;
    for (const paint of [...this.painters]) paint(picture, index);
    this.store.set({ shownFrame: index, fault: null });
  }

  private turn(): void {
    const { mode, loop, wantedFrame, shownFrame } = this.store.getSnapshot();
    if (mode !== 'playing' || this.isDisposed) return;
    const head = playheadAt(this.source.ptsUs, this.playedUs(), loop);
    if (head.isOver) return this.pauseAt(this.source.frameCount - 1);
    if (loop && head.index < wantedFrame) this.anchor = { ms: this.clock.now(), us: head.us };
    if (head.index !== shownFrame || this.pending) this.want(head.index);
    this.cancelTurn = this.clock.onNextTurn(() => this.turn());
  }

  private stopTurning(): void {
    this.cancelTurn?.();
    this.cancelTurn = null;
  }

  private anchorAt(index: number): void {
    this.anchor = { ms: this.clock.now(), us: this.source.ptsUs[index] ?? 0 };
  }

  private playedUs(): number {
    const { speed } = this.store.getSnapshot();
    return this.anchor.us + (this.clock.now() - this.anchor.ms) * 1000 * speed * this.stretch;
  }

  /** After a time in the background playing goes on from the picture that is seen, and the canvas is drawn afresh. */
  private comeBack(): void {
    const { mode, shownFrame, wantedFrame } = this.store.getSnapshot();
    if (mode === 'playing') this.anchorAt(shownFrame ?? wantedFrame);
    this.want(mode === 'playing' ? (shownFrame ?? wantedFrame) : wantedFrame);
  }
}

const asFault = (error: unknown) =>
  error instanceof CagepostError
    ? error
    : new CagepostError('internal', 'This frame could not be shown. Try again.', {}, { cause: error });
