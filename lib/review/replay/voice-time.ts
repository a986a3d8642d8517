import type { PlayClock } from '../player/clock';
import { SilentTime, type ReplayTime } from './replay-time';

/** Browsers tell the place of a sound now and then only; so long (milliseconds) it is guessed from the last time told. */
const LONGEST_GUESS_MS = 120;
/** A guess that ran ahead by less than this waits for the sound instead of going back. */
const JITTER_MS = 80;

export interface VoiceEvents {
  /** The sound is known: its length and the first of it. */
  onReady(): void;
  /** It cannot be loaded or decoded. */
  onBroken(): void;
  /** Something else than the replay paused or started it: a headset, a call, a key of the keyboard. */
  onOutside(isPlaying: boolean): void;
}

/**
 * Time by a voice: the audio element's own place, made smooth between the places it tells. When the voice ends before
 * the breakdown does, time goes on without it.
 */
export class VoiceTime implements ReplayTime {
  private wantsToRun = false;
  private speed = 1;
  /** Where it was sent and has not arrived yet. */
  private target: number | null = null;
  private told = { ms: -1, at: 0 };
  private last = 0;
  /** Runs behind the end of the voice. */
  private readonly tail: SilentTime;
  private isInTail = false;
  private readonly stopListening: () => void;

  constructor(
    private readonly audio: HTMLAudioElement,
    private readonly clock: Pick<PlayClock, 'now'>,
    durationMs: number,
    private readonly events: VoiceEvents,
  ) {
    this.tail = new SilentTime(clock, durationMs);
    const listeners = {
      loadedmetadata: () => this.metadata(),
      seeked: () => this.seeked(),
      ended: () => this.enterTail(this.audio.currentTime * 1000),
      error: () => this.events.onBroken(),
      pause: () => this.heardPause(),
      play: () => !this.wantsToRun && this.events.onOutside(true),
    };
    for (const [name, listener] of Object.entries(listeners)) audio.addEventListener(name, listener);
    this.stopListening = () => {
      for (const [name, listener] of Object.entries(listeners)) audio.removeEventListener(name, listener);
    };
    this.setSpeed(1);
  }

  now(): number {
    if (this.isInTail) return this.tail.now();
    if (this.target !== null) return this.target;
    // A source that is lost tells 0.
    if (this.audio.error) return this.last;
    const ms = this.audio.currentTime * 1000;
    if (!this.wantsToRun || this.isWaiting()) return (this.last = this.told.ms = ms);
    const at = this.clock.now();
    if (ms !== this.told.ms) this.told = { ms, at };
    const guess = this.told.ms + Math.min(LONGEST_GUESS_MS, (at - this.told.at) * this.speed);
    this.last = guess < this.last && this.last - guess < JITTER_MS ? this.last : guess;
    return this.last;
  }

  play(): Promise<void> {
    this.wantsToRun = true;
    this.forget();
    return this.isInTail ? this.tail.play() : this.audio.play();
  }

  pause(): void {
    this.wantsToRun = false;
    this.tail.pause();
    this.audio.pause();
  }

  seek(ms: number): void {
    this.forget();
    const endMs = this.audio.duration * 1000;
    if (Number.isFinite(endMs) && ms >= endMs) return this.enterTail(ms);
    const wasInTail = this.isInTail;
    this.isInTail = false;
    this.tail.pause();
    this.target = ms;
    this.last = ms;
    if (this.audio.readyState >= this.audio.HAVE_METADATA) this.audio.currentTime = ms / 1000;
    if (wasInTail && this.wantsToRun) this.audio.play().catch(() => this.events.onOutside(false));
  }

  setSpeed(speed: number): void {
    this.forget();
    this.speed = speed;
    this.tail.setSpeed(speed);
    this.audio.preservesPitch = true;
    // Loading again falls back to the default.
    this.audio.defaultPlaybackRate = speed;
    this.audio.playbackRate = speed;
  }

  isWaiting(): boolean {
    if (!this.wantsToRun || this.isInTail) return false;
    return this.target !== null || this.audio.readyState < this.audio.HAVE_FUTURE_DATA;
  }

  dispose(): void {
    this.stopListening();
    this.pause();
  }

  /** The next place that is told counts, whatever was guessed. */
  private forget(): void {
    this.told = { ms: -1, at: this.clock.now() };
  }

  private metadata(): void {
    if (this.target !== null) this.seek(this.target);
    this.events.onReady();
  }

  private seeked(): void {
    // A later seek may be under way.
    if (!this.audio.seeking) this.target = null;
    this.forget();
  }

  private enterTail(ms: number): void {
    this.target = null;
    this.isInTail = true;
    this.tail.seek(ms);
    if (this.wantsToRun) void this.tail.play();
    this.audio.pause();
  }

  private heardPause(): void {
    if (this.wantsToRun && !this.isInTail && !this.audio.ended && this.audio.paused)
      this.events.onOutside(false);
  }
}
