import type { CagepostError } from '@/lib/domain/shared/errors';
import { clampFrame, nearestFrame } from '../media/frame-lookup';
import type { NetworkState } from '../media/frame-source';
import { screenClock, type PlayClock } from '../player/clock';
import type { Player, PlayerMode } from '../player/player';
import { playheadAt, type Loop, type Speed } from '../player/playhead';
import { SnapshotStore } from '../player/snapshot-store';
import { momentsOf, type Moment, type PairedClip, type Side } from './pairing';

/** The frames at which two clips are held together. */
export interface Locks {
  readonly a: number;
  readonly b: number;
}

export interface PairSnapshot {
  mode: PlayerMode;
  locks: Locks;
  /** Every step of the pair, in order of time. */
  moments: readonly Moment[];
  /** The step asked for last, as an index into `moments`. */
  index: number;
  moment: Moment;
  /** The step whose two pictures are both really drawn; null before the first. */
  settled: Moment | null;
  speed: Speed;
  /** Two indices into `moments`; both are shown. */
  loop: Loop | null;
  network: NetworkState;
  /** Why one of the two frames cannot be shown. */
  fault: CagepostError | null;
}

/** A pair this late (milliseconds) makes playing wait for it instead of running on. */
const LATEST_MS = 120;

/**
 * Drives two open players as one, by real time from the frames at which they are locked. It does not own them: whoever
 * opened them disposes of them. While it plays it goes on only when both pictures of a step are drawn, so that what
 * stands side by side always belongs together.
 */
export class PairPlayer {
  private readonly store: SnapshotStore<PairSnapshot>;
  private readonly stopListening: (() => void)[];
  private anchor = { ms: 0, us: 0 };
  /** Playing waits for a picture of a step that it wanted at `wantedAt` (milliseconds of the clock). */
  private isHeld = false;
  private wantedAt = 0;
  private cancelTurn: (() => void) | null = null;
  private isDisposed = false;

  constructor(
    private readonly a: Player,
    private readonly b: Player,
    locks: Locks,
    private readonly clock: PlayClock = screenClock,
  ) {
    const placed = this.place(locks, 0);
    this.store = new SnapshotStore<PairSnapshot>({
      mode: 'paused',
      ...placed,
      settled: null,
      speed: 0.25,
      loop: null,
      network: 'ok',
      fault: null,
    });
    this.stopListening = [
      a.subscribe(() => this.look()),
      b.subscribe(() => this.look()),
      clock.onReturn(() => this.anchorAt(this.store.getSnapshot().index)),
    ];
    this.want(placed.index, 'paused');
  }

  get getSnapshot() {
    return this.store.getSnapshot;
  }

  get subscribe() {
    return this.store.subscribe;
  }

  /** Holds the clips together at other frames and goes there. A loop ends: its steps are gone. */
  lock(locks: Locks): void {
    this.stopTurning();
    this.store.set({ ...this.place(locks, 0), loop: null, mode: 'paused' });
    this.want(this.store.getSnapshot().index, 'paused');
  }

  /** Moves one clip alone by whole frames and locks the pair as it then stands. */
  nudge(side: Side, count: number): void {
    const { moment } = this.store.getSnapshot();
    this.lock({ a: moment.a, b: moment.b, [side]: moment[side] + Math.trunc(count) });
  }

  /** Pauses on this step (rounded and held inside the pair). */
  goTo(index: number): void {
    this.pauseAt(index);
  }

  /** Pauses on the locked frames. */
  goToLock(): void {
    this.pauseAt(this.lockIndex(this.store.getSnapshot().moments));
  }

  /** Pauses `count` steps on (negative: back). */
  step(count: number): void {
    this.pauseAt(this.store.getSnapshot().index + Math.trunc(count));
  }

  scrubStart(): void {
    this.stopTurning();
    this.store.set({ mode: 'scrubbing' });
  }

  scrubMove(index: number): void {
    if (this.store.getSnapshot().mode !== 'scrubbing') this.scrubStart();
    this.want(index, 'scrubbing');
  }

  scrubEnd(): void {
    if (this.store.getSnapshot().mode === 'scrubbing') this.pauseAt(this.store.getSnapshot().index);
  }

  /** Plays both by real time; from the start when at the end, from the loop's start when outside it. */
  play(): void {
    const { mode, index, loop, moments } = this.store.getSnapshot();
    if (mode === 'playing' || this.isDisposed) return;
    const isOutside = loop !== null && (index < loop.from || index >= loop.to);
    const isAtEnd = loop === null && index >= moments.length - 1;
    const from = loop && isOutside ? loop.from : isAtEnd ? 0 : index;
    this.store.set({ mode: 'playing', fault: null });
    this.anchorAt(from);
    this.want(from, 'playing');
    this.turn();
  }

  pause(): void {
    this.pauseAt(this.store.getSnapshot().index);
  }

  setSpeed(speed: Speed): void {
    if (this.store.getSnapshot().mode === 'playing')
      this.anchor = { ms: this.clock.now(), us: this.playedUs() };
    this.store.set({ speed });
  }

  /** Plays round and round between two steps, both shown; null plays to the end. A loop of one step changes nothing. */
  setLoop(loop: Loop | null): void {
    if (!loop) return this.store.set({ loop: null });
    const { moments, mode, index } = this.store.getSnapshot();
    const ends = [loop.from, loop.to].map((end) => clampFrame(end, moments.length));
    const [from, to] = [Math.min(...ends), Math.max(...ends)];
    if (from === to) return;
    this.store.set({ loop: { from, to } });
    if (mode === 'playing') this.anchorAt(index < from || index > to ? from : index);
  }

  retry(): void {
    this.store.set({ fault: null });
    this.a.retry();
    this.b.retry();
  }

  dispose(): void {
    if (this.isDisposed) return;
    this.isDisposed = true;
    this.stopTurning();
    for (const stop of this.stopListening) stop();
    this.store.clear();
  }

  /** The two clips as they are paired by these locks. */
  private clips({ a, b }: Locks): [PairedClip, PairedClip] {
    const paired = ({ source, stretch }: Player, frame: number): PairedClip => ({
      ptsUs: source.ptsUs,
      stretch,
      lockedFrame: clampFrame(frame, source.frameCount),
    });
    return [paired(this.a, a), paired(this.b, b)];
  }

  private place(locks: Locks, us: number) {
    const [a, b] = this.clips(locks);
    const moments = momentsOf(a, b);
    const times = moments.map((moment) => moment.us);
    const index = nearestFrame(times, us);
    const moment = moments[index] ?? { a: 0, b: 0, us: 0 };
    return { locks: { a: a.lockedFrame, b: b.lockedFrame }, moments, index, moment };
  }

  private readonly lockIndex = (moments: readonly Moment[]) =>
    nearestFrame(
      moments.map((moment) => moment.us),
      0,
    );

  private want(index: number, how: PlayerMode): void {
    if (this.isDisposed) return;
    const { moments } = this.store.getSnapshot();
    const held = clampFrame(index, moments.length);
    const moment = moments[held];
    if (!moment) return;
    this.store.set({ index: held, moment });
    for (const [player, frame] of [
      [this.a, moment.a],
      [this.b, moment.b],
    ] as const) {
      // A paused player gives up the picture that is on the way; a moving one still shows it.
      if (how === 'paused') player.goTo(frame);
      else if (player.getSnapshot().wantedFrame !== frame) player.scrubMove(frame);
    }
    this.look();
  }

  private pauseAt(index: number): void {
    this.stopTurning();
    this.store.set({ mode: 'paused', fault: null });
    this.want(index, 'paused');
  }

  /** Takes over what the two players tell. */
  private look(): void {
    if (this.isDisposed) return;
    const [a, b] = [this.a.getSnapshot(), this.b.getSnapshot()];
    const { moment } = this.store.getSnapshot();
    const isSettled = a.shownFrame === moment.a && b.shownFrame === moment.b;
    const fault = a.fault ?? b.fault;
    this.store.set({
      network: a.network === 'waiting' || b.network === 'waiting' ? 'waiting' : 'ok',
      fault,
      ...(isSettled ? { settled: moment } : {}),
    });
    if (fault && this.store.getSnapshot().mode === 'playing') {
      this.stopTurning();
      this.store.set({ mode: 'paused' });
    }
  }

  private turn(): void {
    const { mode, loop, moments, moment, settled, index } = this.store.getSnapshot();
    if (mode !== 'playing' || this.isDisposed) return;
    const now = this.clock.now();
    if (settled === moment) {
      if (now - this.wantedAt > LATEST_MS && this.isHeld) this.anchorAt(index);
      this.isHeld = false;
      const times = moments.map((one) => one.us);
      const head = playheadAt(times, this.playedUs(), loop);
      if (head.isOver) return this.pauseAt(moments.length - 1);
      if (loop && head.index < index) this.anchor = { ms: now, us: head.us };
      if (head.index !== index) {
        this.wantedAt = now;
        this.want(head.index, 'playing');
      }
    } else this.isHeld = true;
    this.cancelTurn = this.clock.onNextTurn(() => this.turn());
  }

  private stopTurning(): void {
    this.cancelTurn?.();
    this.cancelTurn = null;
    this.isHeld = false;
  }

  private anchorAt(index: number): void {
    this.anchor = { ms: this.clock.now(), us: this.store.getSnapshot().moments[index]?.us ?? 0 };
  }

  private playedUs(): number {
    return this.anchor.us + (this.clock.now() - this.anchor.ms) * 1000 * this.store.getSnapshot().speed;
  }
}
