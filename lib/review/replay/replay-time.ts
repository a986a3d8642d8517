import type { PlayClock } from '../player/clock';

/** Where a replay stands in time, whatever moves it on: a voice, or the screen's own clock. */
export interface ReplayTime {
  /** Milliseconds of the breakdown. */
  now(): number;
  /** Rejects when the browser does not let the sound start. */
  play(): Promise<void>;
  pause(): void;
  /** Goes to a moment at once; `now` says it from then on, also while the sound is still on its way there. */
  seek(ms: number): void;
  setSpeed(speed: number): void;
  /** It should move on and cannot: the sound is not loaded up to here. */
  isWaiting(): boolean;
  dispose(): void;
}

/** Time of a breakdown without a voice. */
export class SilentTime implements ReplayTime {
  private anchor = { ms: 0, at: 0 };
  private isRunning = false;
  private speed = 1;

  constructor(
    private readonly clock: Pick<PlayClock, 'now'>,
    private readonly durationMs: number,
  ) {}

  now(): number {
    const { ms, at } = this.anchor;
    if (!this.isRunning) return ms;
    return Math.min(this.durationMs, ms + (this.clock.now() - at) * this.speed);
  }

  play(): Promise<void> {
    this.seek(this.now());
    this.isRunning = true;
    return Promise.resolve();
  }

  pause(): void {
    this.seek(this.now());
    this.isRunning = false;
  }

  seek(ms: number): void {
    this.anchor = { ms, at: this.clock.now() };
  }

  setSpeed(speed: number): void {
    this.seek(this.now());
    this.speed = speed;
  }

  isWaiting(): boolean {
    return false;
  }

  dispose(): void {
    this.pause();
  }
}
