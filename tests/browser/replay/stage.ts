import { vi } from 'vitest';
import { userEvent } from 'vitest/browser';
import type { BreakdownEvent, Scene } from '@/lib/domain/breakdowns/event';
import { indexTimeline, sceneAt } from '@/lib/domain/breakdowns/scene';
import type { Timeline } from '@/lib/domain/breakdowns/timeline';
import type { FrameSource } from '@/lib/review/media/frame-source';
import { openFrameSource } from '@/lib/review/media/open-frame-source';
import { Player } from '@/lib/review/player/player';
import { createReplay, type Replay } from '@/lib/review/replay/replay';
import type { ReplayOptions } from '@/lib/review/replay/replay-options';
import { buildScene as sceneOf } from '../../support/build-scene';
import type { ClipName } from '../player/clip-recipes';
import { countedClip, numberIn, type CountedClip } from '../player/counted-clip';

export const CLIP = '018f5e2a-0000-7000-8000-00000000c11b';
export const OTHER_CLIP = '018f5e2a-0000-7000-8000-00000000c12b';

export const buildScene = (overrides: Partial<Scene> = {}): Scene =>
  sceneOf({ clipId: CLIP, frame: 10, ...overrides });

export const buildTimeline = (
  durationMs: number,
  events: readonly BreakdownEvent[] = [],
  first: Partial<Scene> = {},
): Timeline => ({
  version: 1,
  clips: [{ clipId: CLIP, frameCount: 96 }],
  durationMs,
  hasVoice: true,
  events: [{ t: 0, kind: 'scene', scene: buildScene(first) }, ...events],
});

/** A frame event every `everyMs`, by a rule; as a clip that plays or a hand that turns frames leaves them. */
export const frames = (toMs: number, everyMs: number, frameOf: (n: number) => number): BreakdownEvent[] =>
  Array.from({ length: Math.floor(toMs / everyMs) }, (_, n) => ({
    t: (n + 1) * everyMs,
    kind: 'frame',
    clipId: CLIP,
    frame: frameOf(n),
  }));

/** A soft tone of this length as a WAV file (RIFF, PCM, 8 bit, 8 kHz). */
export const toneUrl = (durationMs: number): string => {
  const rate = 8000;
  const count = Math.round((durationMs * rate) / 1000);
  const view = new DataView(new ArrayBuffer(44 + count));
  const text = (at: number, word: string) =>
    [...word].forEach((c, n) => view.setUint8(at + n, c.charCodeAt(0)));
  text(0, 'RIFF');
  view.setUint32(4, 36 + count, true);
  text(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, rate, true);
  view.setUint32(28, rate, true);
  view.setUint16(32, 1, true);
  view.setUint16(34, 8, true);
  text(36, 'data');
  view.setUint32(40, count, true);
  for (let n = 0; n < count; n++) view.setUint8(44 + n, 128 + Math.round(20 * Math.sin(n / 4)));
  return URL.createObjectURL(new Blob([view.buffer], { type: 'audio/wav' }));
};

export const toneOf = (durationMs: number): HTMLAudioElement => {
  const audio = new Audio(toneUrl(durationMs));
  audio.preload = 'auto';
  releases.push(() => {
    audio.pause();
    URL.revokeObjectURL(audio.src);
    audio.removeAttribute('src');
    audio.load();
  });
  return audio;
};

const releases: (() => void)[] = [];
/** Gives everything back that was opened since the last time. */
export const closeAll = () => {
  for (const release of releases.splice(0).reverse()) release();
};

export interface OpenReplayOptions extends Partial<Omit<ReplayOptions, 'timeline' | 'stage'>> {
  timeline: Timeline;
  clip?: ClipName;
  engine?: FrameSource['engine'];
  /** CSS pixels; the picture of the clip "review" is 360 by 640. */
  size?: [width: number, height: number];
}

export interface OpenedReplay {
  replay: Replay;
  clip: CountedClip;
  stage: HTMLElement;
  audio: HTMLAudioElement | null;
  player(clipId?: string): Promise<Player>;
  /** What the timeline shows at `ms`. */
  sceneAt(ms: number): Scene;
  /** The number burnt into what is really seen on the stage just now. */
  seen(pane?: 0 | 1): number | null;
  layer(name: 'picture' | 'marks' | 'live', pane?: 0 | 1): HTMLCanvasElement;
  /** Waits until the picture of this frame is drawn. */
  shows(frame: number): Promise<void>;
}

/** A person has pressed something: browsers hold sound back until then. */
export const press = async () => {
  const button = document.createElement('button');
  button.textContent = 'Start';
  document.body.replaceChildren(button);
  await userEvent.click(button);
  button.remove();
};

export const openReplay = async (options: OpenReplayOptions): Promise<OpenedReplay> => {
  const { timeline, clip: name = 'review', engine, size = [360, 640], voice, players, ...rest } = options;
  const clip = await countedClip(name);
  await press();
  document.body.style.margin = '0';
  const stage = document.createElement('div');
  Object.assign(stage.style, {
    position: 'absolute',
    left: '0',
    top: '0',
    width: `${size[0]}px`,
    height: `${size[1]}px`,
  });
  document.body.replaceChildren(stage);

  const opened = new Map<string, Promise<Player>>();
  const player = (clipId = CLIP) => {
    const known = opened.get(clipId);
    if (known) return known;
    const opening = openFrameSource({ url: clip.url, table: clip.table, engine }).then((source) => {
      const made = new Player(source, clip.table);
      releases.unshift(() => made.dispose());
      return made;
    });
    opened.set(clipId, opening);
    return opening;
  };
  const audio = voice === undefined ? toneOf(timeline.durationMs) : voice;
  const replay = createReplay({ timeline, stage, voice: audio, players: players ?? player, ...rest });
  releases.push(() => replay.dispose());
  const index = indexTimeline(timeline);
  const layer = (wanted: string, pane = 0) =>
    stage.querySelectorAll<HTMLCanvasElement>(`[data-layer=${wanted}]`)[pane]!;
  return {
    replay,
    clip,
    stage,
    audio,
    player,
    sceneAt: (ms) => sceneAt(index, ms),
    layer,
    seen: (pane = 0) => {
      const { width, height } = clip.table;
      return numberIn(layer('picture', pane) as unknown as OffscreenCanvas, width, height);
    },
    shows: (frame) =>
      vi.waitFor(
        () => {
          const { shown, fault } = replay.getSnapshot();
          if (shown?.frame !== frame)
            throw new Error(`${fault?.forPeople ?? ''} shows ${shown?.frame}, not ${frame}`);
        },
        { timeout: 8000, interval: 2 },
      ),
  };
};

/** Waits until the voice (or the breakdown) has come to `ms`. */
export const comesTo = (replay: Replay, ms: number) =>
  vi.waitFor(
    () => {
      if (replay.getSnapshot().ms < ms) throw new Error(`at ${replay.getSnapshot().ms}, not ${ms}`);
    },
    { timeout: 10_000, interval: 5 },
  );
