import { chapterAt } from '@/lib/domain/breakdowns/chapters';
import { applyEvent, eventsBetween, indexTimeline, sceneAt } from '@/lib/domain/breakdowns/scene';
import type { Cue } from '@/lib/domain/captions/cue';
import { cueAt } from '@/lib/domain/captions/find-cue';
import type { ScreenPoint } from '../canvas/viewport';
import { clampFrame } from '../media/frame-lookup';
import { screenClock } from '../player/clock';
import { SnapshotStore } from '../player/snapshot-store';
import type { ReplayOptions } from './replay-options';
import { createReplayView } from './replay-view';
import { createReplayVoice } from './replay-voice';
import type { ReplaySnapshot, ReplaySpeed } from './replay-snapshot';
import { createWatched } from './watched';

export { REPLAY_SPEEDS, type ReplaySnapshot, type ReplaySpeed } from './replay-snapshot';

/** A screen is told the time this often while playing; pictures are drawn at every turn of the display. */
const TELL_EVERY_MS = 100;
/** A picture this late stops the voice until it is there. */
const HOLD_AFTER_MS = 500;
/** More events than this since the last turn (a tab came back) are sought, not folded. */
const MOST_FOLDED = 256;
/** A voice that rests this near (milliseconds) to where it should go on is not sent there: a seek costs more. */
const NEAR_MS = 40;
/** A jump to another part of a clip is made ready this long before it happens. */
const LOOK_AHEAD_MS = 700;

export type Replay = ReturnType<typeof createReplay>;

/**
 * Plays a breakdown on `stage`: the voice is the clock, each picture is the exact frame that was spoken about, marks are
 * drawn sharp at any size. `getSnapshot` and `subscribe` fit `useSyncExternalStore`.
 */
export const createReplay = (options: ReplayOptions) => {
  const { timeline, stage, clock = screenClock, chapters = [] } = options;
  const { durationMs } = timeline;
  const index = indexTimeline(timeline);
  const clampMs = (ms: number) => (Number.isFinite(ms) ? Math.min(durationMs, Math.max(0, ms)) : 0);
  const startMs = clampMs(options.startMs ?? 0);
  let captions = options.captions ?? [];
  let scene = sceneAt(index, startMs);
  let sceneMs = startMs;
  let toldAt = -Infinity;
  let behindSince: number | null = null;
  let lastShown: number | null = null;
  let isHeld = false;
  let expected: unknown = null;
  let cancelTurn: (() => void) | null = null;
  let isDisposed = false;

  const captionAt = (ms: number) => cueAt(captions, ms)?.text ?? scene.caption;
  const store = new SnapshotStore<ReplaySnapshot>({
    state: 'paused',
    isWaiting: false,
    ms: startMs,
    durationMs,
    speed: 1,
    scene,
    shown: null,
    zoom: scene.look.zoom,
    chapter: chapterAt(chapters, startMs),
    caption: captionAt(startMs),
    voice: options.voice && timeline.hasVoice ? 'loading' : 'none',
    fault: null,
    furthestMs: clampMs(options.furthestMs ?? 0),
    isOver: startMs >= durationMs,
  });
  const snapshot = store.getSnapshot;
  const watched = createWatched(clock, (progress) => options.onProgress?.(progress));
  const tellProgress = (isLast: boolean) => {
    const { ms, furthestMs, isOver } = snapshot();
    watched({ ms: Math.round(ms), furthestMs: Math.round(furthestMs), isOver }, isLast);
  };

  const view = createReplayView(stage, options.players, () => tell(false));
  const voice = createReplayVoice({
    audio: timeline.hasVoice ? options.voice : null,
    durationMs,
    clock,
    refresh: options.refreshVoice,
    onChange: () => tell(true),
    onOutside: (isPlaying) => (isPlaying ? play() : pause()),
  });

  /** What is seen and heard becomes the snapshot; while playing only now and then, but a change of state at once. */
  function tell(isDue: boolean): void {
    if (isDisposed) return;
    const before = snapshot();
    const ms = before.state === 'playing' ? sceneMs : before.ms;
    const now: Partial<ReplaySnapshot> = {
      chapter: chapterAt(chapters, ms),
      caption: captionAt(ms),
      voice: voice.state(),
      fault: voice.fault() ?? view.fault(),
      isWaiting: before.state === 'playing' && (isHeld || voice.isWaiting()),
    };
    const isNews = (Object.keys(now) as (keyof ReplaySnapshot)[]).some((key) => now[key] !== before[key]);
    const isQuiet = before.state === 'playing' && clock.now() - toldAt < TELL_EVERY_MS;
    if (!isDue && !isNews && isQuiet) return;
    toldAt = clock.now();
    const shown = view.shown();
    const isSameShown = shown?.frame === before.shown?.frame && shown?.clipId === before.shown?.clipId;
    const furthestMs = before.state === 'playing' ? Math.max(before.furthestMs, ms) : before.furthestMs;
    store.set({
      ...now,
      ms,
      scene,
      furthestMs,
      isOver: ms >= durationMs,
      shown: isSameShown ? before.shown : shown,
      zoom: view.main()?.zoom() ?? scene.look.zoom,
    });
  }

  /** Makes the scene that of `ms`. Going on by a little is folding the events between, anything else is a seek. */
  const moveTo = (ms: number, isPlaying: boolean) => {
    const onwards = isPlaying && ms >= sceneMs ? eventsBetween(index, sceneMs, ms) : null;
    scene = onwards && onwards.length <= MOST_FOLDED ? onwards.reduce(applyEvent, scene) : sceneAt(index, ms);
    sceneMs = ms;
    view.show(scene, isPlaying);
    view.flush();
  };

  const lookAhead = (ms: number) => {
    const next = eventsBetween(index, ms, ms + LOOK_AHEAD_MS).find(
      (event) => event.kind === 'frame' || event.kind === 'scene',
    );
    if (next === expected) return;
    expected = next;
    if (next?.kind === 'frame') view.expect(next.clipId, next.frame);
    if (next?.kind === 'scene') view.expect(next.scene.clipId, next.scene.frame);
  };

  /** A picture that is long in coming stops the voice: what is said is about what is seen. */
  const hold = () => {
    const at = clock.now();
    const shown = view.shown();
    if (view.isThere()) behindSince = null;
    // Late pictures that keep coming are motion still.
    else if (shown && shown.frame !== lastShown) behindSince = at;
    else behindSince ??= shown ? at : -Infinity;
    lastShown = shown?.frame ?? null;
    const isLate = behindSince !== null && at - behindSince > HOLD_AFTER_MS;
    if (isLate && !isHeld) {
      isHeld = true;
      voice.pause();
    } else if (isHeld && behindSince === null) {
      isHeld = false;
      void voice.play();
    }
  };

  const turn = () => {
    if (snapshot().state !== 'playing' || isDisposed) return;
    const ms = clampMs(voice.now());
    if (ms >= durationMs) return finish();
    moveTo(ms, true);
    hold();
    if (!isHeld) lookAhead(ms);
    tell(false);
    tellProgress(false);
    cancelTurn = clock.onNextTurn(turn);
  };

  const stopTurning = () => {
    cancelTurn?.();
    cancelTurn = null;
    isHeld = false;
    behindSince = null;
    voice.pause();
  };

  /** Stops at `ms`, in `state`, on the exact picture. */
  const rest = (state: 'paused' | 'looking', ms: number) => {
    const { furthestMs } = snapshot();
    const isPlayed = snapshot().state === 'playing';
    stopTurning();
    moveTo(ms, false);
    store.set({ state, ms, furthestMs: isPlayed ? Math.max(furthestMs, ms) : furthestMs });
    tell(true);
    tellProgress(true);
  };
  const finish = () => rest('paused', durationMs);

  /** Where the coach is: the voice's place while it plays, else where it was stopped. */
  const place = () => (snapshot().state === 'playing' ? clampMs(voice.now()) : snapshot().ms);

  /** Plays from where it stands, from the beginning when it is over; from looking around it comes back first. */
  function play(): void {
    if (snapshot().state === 'playing' || isDisposed) return;
    if (snapshot().state === 'looking') view.main()?.letGo();
    const from = snapshot().ms >= durationMs ? 0 : snapshot().ms;
    moveTo(from, false);
    if (Math.abs(voice.now() - from) > NEAR_MS) voice.seek(from);
    for (const { clipId } of timeline.clips) view.open(clipId);
    store.set({ state: 'playing', ms: from, isOver: false });
    void voice.play();
    turn();
  }

  function pause(): void {
    if (snapshot().state === 'playing') rest('paused', place());
  }

  /** Goes to a moment and goes on playing if it played; looking around ends. */
  const seek = (to: number) => {
    if (isDisposed) return;
    const ms = clampMs(to);
    if (snapshot().state === 'looking') comeBack();
    voice.seek(ms);
    behindSince = null;
    moveTo(ms, false);
    store.set({ ms });
    tell(true);
  };

  /** Stops, and leaves the picture to the person; `comeBack` returns to the coach's place. */
  const lookAround = () => {
    if (snapshot().state !== 'looking' && !isDisposed) rest('looking', place());
  };
  const comeBack = () => {
    if (snapshot().state !== 'looking') return;
    view.main()?.letGo();
    rest('paused', snapshot().ms);
  };
  const byHand = (act: (main: NonNullable<ReturnType<typeof view.main>>) => void) => {
    lookAround();
    const main = view.main();
    if (!main) return;
    act(main);
    main.flush();
    tell(true);
  };
  const goToFrame = (frame: number) =>
    byHand((main) => main.showFrame(clampFrame(frame, main.feed.frameCount)));

  const hidden = () => {
    if (document.hidden) tellProgress(true);
  };
  document.addEventListener('visibilitychange', hidden);
  const stopReturn = clock.onReturn(() => {
    // While it was away no picture was drawn; the voice went on.
    if (snapshot().state === 'playing') moveTo(clampMs(voice.now()), false);
  });
  if (startMs > 0) voice.seek(startMs);
  moveTo(startMs, false);
  tell(true);

  return {
    getSnapshot: store.getSnapshot,
    subscribe: store.subscribe,
    play,
    pause,
    toggle: () => (snapshot().state === 'playing' ? pause() : play()),
    seek,
    /** Goes to the beginning of the next chapter, or of this one, or from its first seconds of the one before. */
    seekChapter: (step: -1 | 1) => {
      const ms = place();
      const to =
        step === 1
          ? chapters.find((chapter) => chapter.fromMs > ms)
          : chapters.findLast((chapter) => chapter.fromMs < ms - 2000);
      seek(to?.fromMs ?? (step === 1 ? durationMs : 0));
    },
    setSpeed: (speed: ReplaySpeed) => {
      voice.setSpeed(speed);
      store.set({ speed });
    },
    lookAround,
    comeBack,
    step: (frames: number) => byHand((main) => goToFrame(main.wantedFrame() + Math.trunc(frames))),
    goToFrame,
    /** Zooms by a factor about a place of the stage in CSS pixels, its middle if none is given. */
    zoomBy: (factor: number, about?: ScreenPoint) => byHand((main) => main.zoomBy(factor, about)),
    panBy: (by: ScreenPoint) => byHand((main) => main.panBy(by)),
    setCaptions: (next: readonly Cue[]) => {
      captions = next;
      tell(true);
    },
    /** Tries again what is missing: voice, clips, pictures. */
    retry: () => {
      voice.retry();
      view.retry();
      tell(true);
    },
    dispose: () => {
      if (isDisposed) return;
      tellProgress(true);
      isDisposed = true;
      stopTurning();
      document.removeEventListener('visibilitychange', hidden);
      stopReturn();
      voice.dispose();
      view.dispose();
      store.clear();
    },
  };
};
