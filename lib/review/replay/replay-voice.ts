import { CagepostError } from '@/lib/domain/shared/errors';
import type { PlayClock } from '../player/clock';
import { SilentTime, type ReplayTime } from './replay-time';
import type { VoiceState } from './replay-snapshot';
import { VoiceTime } from './voice-time';

/** The time of a replay, whatever becomes of its voice: it goes on silently when the voice fails. */
export interface ReplayVoice extends ReplayTime {
  state(): VoiceState;
  fault(): CagepostError | null;
  /** Tries a failed voice once more, from where the breakdown stands. */
  retry(): void;
}

export interface ReplayVoiceOptions {
  /** Null for a silent breakdown. */
  audio: HTMLAudioElement | null;
  durationMs: number;
  clock: Pick<PlayClock, 'now'>;
  /** A fresh address when the old one has run out. */
  refresh?: (() => Promise<string>) | undefined;
  onChange: () => void;
  onOutside: (isPlaying: boolean) => void;
}

export const createReplayVoice = (options: ReplayVoiceOptions): ReplayVoice => {
  const { audio, durationMs, clock, refresh, onChange, onOutside } = options;
  let state: VoiceState = audio ? 'loading' : 'none';
  let lost: CagepostError | null = null;
  let heldBack: CagepostError | null = null;
  let isRunning = false;
  let speed = 1;
  let isDisposed = false;
  /** A fresh address is asked for once, until the voice was heard again. */
  let mayRefresh = true;
  let time: ReplayTime;

  const listen = (element: HTMLAudioElement): ReplayTime =>
    new VoiceTime(element, clock, durationMs, {
      onReady: () => {
        state = 'ok';
        lost = null;
        mayRefresh = true;
        onChange();
      },
      onBroken: () => void broken(element),
      onOutside,
    });
  const swap = (next: ReplayTime, ms: number) => {
    time.dispose();
    time = next;
    time.setSpeed(speed);
    time.seek(ms);
    if (isRunning) time.play().catch(refused);
  };
  const broken = async (element: HTMLAudioElement) => {
    if (isDisposed || state === 'failed') return;
    if (refresh && mayRefresh) {
      mayRefresh = false;
      state = 'loading';
      try {
        const url = await refresh();
        if (isDisposed) return;
        const ms = time.now();
        element.src = url; // begins to load, from its beginning
        swap(listen(element), ms);
        return;
      } catch {
        // Without a fresh address it is as lost as before.
      }
    }
    if (isDisposed) return;
    state = 'failed';
    lost = voiceFailed(element.error?.code);
    swap(new SilentTime(clock, durationMs), time.now());
    onChange();
  };
  /** A pause before the sound has started ends the start with AbortError; a broken voice tells so itself. */
  const refused = (error: unknown) => {
    if (isDisposed || !(error instanceof DOMException) || error.name !== 'NotAllowedError') return;
    heldBack = notAllowed();
    onOutside(false);
  };

  time = audio ? listen(audio) : new SilentTime(clock, durationMs);
  if (audio?.error) void Promise.resolve().then(() => broken(audio));
  else if (audio && audio.readyState >= HTMLMediaElement.HAVE_METADATA) state = 'ok';

  return {
    state: () => state,
    fault: () => heldBack ?? lost,
    now: () => Math.min(durationMs, time.now()),
    isWaiting: () => time.isWaiting(),
    play: async () => {
      heldBack = null;
      isRunning = true;
      await time.play().catch(refused);
    },
    pause: () => {
      isRunning = false;
      time.pause();
    },
    seek: (ms) => time.seek(ms),
    setSpeed: (next) => {
      speed = next;
      time.setSpeed(next);
    },
    retry: () => {
      if (!audio || state !== 'failed') return;
      state = 'loading';
      lost = null;
      mayRefresh = true;
      // Loading again ends a play that was begun before it.
      audio.load();
      swap(listen(audio), time.now());
    },
    dispose: () => {
      isDisposed = true;
      time.dispose();
    },
  };
};

const voiceFailed = (code: number | undefined) =>
  new CagepostError(
    'unavailable',
    'The voice could not be loaded, so the breakdown plays without it. Captions and pictures are all there. Try again in a moment.',
    { code },
  );

const notAllowed = () =>
  new CagepostError(
    'wrong-state',
    'The browser holds the sound back until you ask for it here. Press play once more.',
  );
