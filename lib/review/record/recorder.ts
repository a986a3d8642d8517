import { MAX_BREAKDOWN_MS } from '@/lib/domain/breakdowns/event';
import type { Mic } from './mic';
import type { Interruption } from './record-faults';

/** How long a slice of a take is: what a killed browser can lose at most. */
export const SLICE_MS = 500;
/** Speech needs no more; without it Chromium takes four times as much. */
const VOICE_BITS_PER_SECOND = 24_000;
const VOICE_TYPES = ['audio/webm;codecs=opus', 'audio/mp4'] as const;

/** A stretch of the take's clock, in milliseconds, with the voice bytes that came in it (null without a voice). */
export interface Slice {
  readonly fromMs: number;
  readonly toMs: number;
  readonly voice: Promise<ArrayBuffer> | null;
}

export interface TakeSink {
  /** Called in order, about twice a second, and once more for the rest when the take pauses or stops. */
  onSlice(slice: Slice): void;
  /** The take was paused by something else than the coach. `isOver`: its microphone will not come back. */
  onInterruption(why: Interruption, isOver: boolean): void;
}

/** One take while it runs. */
export interface TakeRecorder {
  readonly kind: 'voice' | 'silent';
  /** Media type of the voice, "" without one. */
  readonly voiceType: string;
  readonly isPaused: boolean;
  /** Milliseconds of the take, pauses taken out: the stamp of every event. */
  nowMs(): number;
  pause(): void;
  resume(): void;
  /** Ends the take; resolves with its length when its last slice was given. */
  stop(): Promise<number>;
}

/** The first container with a codec for speech that this browser records; null when there is none. */
export const voiceTypeHere = (): string | null =>
  globalThis.MediaRecorder ? (VOICE_TYPES.find((type) => MediaRecorder.isTypeSupported(type)) ?? null) : null;

/** A clock over `secondsNow` with its pauses taken out, in whole milliseconds. */
export const createTakeClock = (secondsNow: () => number) => {
  let startedAt = secondsNow();
  let before = 0;
  let isPaused = false;
  const elapsed = () => before + (isPaused ? 0 : secondsNow() - startedAt);
  return {
    nowMs: () => Math.min(MAX_BREAKDOWN_MS, Math.max(0, Math.round(elapsed() * 1000))),
    pause: () => {
      before = elapsed();
      isPaused = true;
    },
    resume: () => {
      startedAt = secondsNow();
      isPaused = false;
    },
  };
};

/** Slices follow each other without gap or overlap, whenever they are cut. */
const createCutter = (nowMs: () => number, sink: TakeSink) => {
  let from = 0;
  return (voice: Slice['voice']) => {
    const toMs = Math.max(from, nowMs());
    sink.onSlice({ fromMs: from, toMs, voice });
    from = toMs;
  };
};

const listenTo = (targets: readonly [EventTarget, string, () => void][]): (() => void) => {
  for (const [target, type, heard] of targets) target.addEventListener(type, heard);
  return () => {
    for (const [target, type, heard] of targets) target.removeEventListener(type, heard);
  };
};

/**
 * Starts a take over an open microphone: its voice goes through the audio context into the recorder, so that the
 * context's time stamps voice and events alike. Throws where the browser has no encoder for speech.
 */
export const startVoiceTake = (mic: Mic, sink: TakeSink): TakeRecorder => {
  const type = voiceTypeHere();
  if (!type) throw new DOMException('No recorder for speech', 'NotSupportedError');
  const { context, source, track } = mic;
  const destination = context.createMediaStreamDestination();
  destination.channelCount = 1;
  source.connect(destination);
  const recorder = new MediaRecorder(destination.stream, {
    mimeType: type,
    audioBitsPerSecond: VOICE_BITS_PER_SECOND,
  });
  recorder.start(SLICE_MS);
  const clock = createTakeClock(() => context.currentTime);
  const cut = createCutter(clock.nowMs, sink);
  let isPaused = false;
  let stopped: Promise<number> | null = null;

  const pause = () => {
    if (isPaused || stopped) return;
    clock.pause();
    isPaused = true;
    if (recorder.state !== 'recording') return;
    recorder.pause();
    // What the encoder holds is given out now: a page that is killed while it rests loses nothing.
    recorder.requestData();
  };
  const interrupt = (why: Interruption, isOver: boolean) => {
    if (stopped) return;
    const wasPaused = isPaused;
    pause();
    if (!wasPaused || isOver) sink.onInterruption(why, isOver);
  };
  const stopListening = listenTo([
    [document, 'visibilitychange', () => document.hidden && interrupt('hidden', false)],
    [track, 'mute', () => interrupt('muted', false)],
    [track, 'ended', () => interrupt('ended', true)],
    [context, 'statechange', () => context.state !== 'running' && interrupt('audio-stopped', false)],
    [recorder, 'error', () => interrupt('encoder', true)],
  ]);
  recorder.addEventListener('dataavailable', ({ data }) => {
    if (data.size > 0) cut(data.arrayBuffer());
  });

  return {
    kind: 'voice',
    voiceType: recorder.mimeType || type,
    get isPaused() {
      return isPaused;
    },
    nowMs: clock.nowMs,
    pause,
    resume: () => {
      if (!isPaused || stopped) return;
      void context.resume();
      if (recorder.state === 'paused') recorder.resume();
      clock.resume();
      isPaused = false;
    },
    stop: () =>
      (stopped ??= new Promise((resolve) => {
        if (!isPaused) clock.pause();
        isPaused = true;
        stopListening();
        const end = () => {
          source.disconnect(destination);
          resolve(clock.nowMs());
        };
        if (recorder.state === 'inactive') return end();
        recorder.addEventListener('stop', end, { once: true });
        recorder.stop();
      })),
  };
};

/** Starts a take without a voice, over the page's own clock. */
export const startSilentTake = (
  sink: TakeSink,
  now: () => number = () => performance.now(),
): TakeRecorder => {
  const clock = createTakeClock(() => now() / 1000);
  const cut = createCutter(clock.nowMs, sink);
  let isPaused = false;
  let stopped: Promise<number> | null = null;
  const timer = setInterval(() => !isPaused && cut(null), SLICE_MS);
  const pause = () => {
    if (isPaused || stopped) return;
    clock.pause();
    isPaused = true;
    cut(null);
  };
  const stopListening = listenTo([
    [
      document,
      'visibilitychange',
      () => {
        if (!document.hidden || isPaused || stopped) return;
        pause();
        sink.onInterruption('hidden', false);
      },
    ],
  ]);
  return {
    kind: 'silent',
    voiceType: '',
    get isPaused() {
      return isPaused;
    },
    nowMs: clock.nowMs,
    pause,
    resume: () => {
      if (!isPaused || stopped) return;
      clock.resume();
      isPaused = false;
    },
    stop: () => {
      if (!stopped) {
        pause();
        stopListening();
        clearInterval(timer);
        stopped = Promise.resolve(clock.nowMs());
      }
      return stopped;
    },
  };
};
