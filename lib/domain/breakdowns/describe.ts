import { CHECKPOINT_NAME } from '../checkpoints/checkpoint';
import type { ChecklistItem } from '../checkpoints/checklist';
import { describeMark, placeOf } from '../marks/describe';
import type { PictureSize } from '../marks/geometry';
import type { Mark } from '../marks/mark';
import type { BreakdownEvent, Scene } from './event';
import { applyEvent } from './scene';
import type { Timeline } from './timeline';

/** One thing that is done in a breakdown, in words. `atMs` is when it begins. */
export interface Step {
  atMs: number;
  text: string;
}

export interface TwinWords {
  checklist: readonly Pick<ChecklistItem, 'id' | 'title'>[];
  /** What people call a clip, as in "Clip 1, open side". */
  clipName: (clipId: string) => string;
  /** Size of a clip's picture; angles need it. */
  sizeOf: (clipId: string) => PictureSize;
}

/** Steps of one kind that follow one another this closely are one: a hand turning frames, a mark growing. */
const ONE_GESTURE_MS = 700;

/**
 * What is done in a breakdown, in order and in words, for people without a picture (and for the search). The voice says
 * the rest. Frames that only pass while the clip plays are left out.
 */
export const describeTimeline = (timeline: Pick<Timeline, 'events'>, words: TwinWords): Step[] => {
  const steps: (Step & { key: string; lastMs: number })[] = [];
  let scene: Scene | null = null;
  for (const event of timeline.events) {
    const before: Scene | null = scene;
    if (event.kind === 'scene') scene = event.scene;
    else if (scene) scene = applyEvent(scene, event);
    if (!scene) continue;
    const said = sayEvent(event, before, scene, words);
    if (!said) continue;
    const open = steps.findLast((step) => step.key === said.key);
    const isSameGesture =
      open && event.t - open.lastMs <= ONE_GESTURE_MS && (said.isMark || open === steps.at(-1));
    if (open && isSameGesture) Object.assign(open, { text: said.text, lastMs: event.t });
    else if (steps.at(-1)?.text !== said.text)
      steps.push({ atMs: event.t, text: said.text, key: said.key, lastMs: event.t });
  }
  return steps.map(({ atMs, text }) => ({ atMs, text }));
};

interface Said {
  text: string;
  /** What makes two events parts of one gesture. */
  key: string;
  isMark?: boolean;
}

const sayEvent = (
  event: BreakdownEvent,
  before: Scene | null,
  after: Scene,
  words: TwinWords,
): Said | null => {
  switch (event.kind) {
    case 'scene':
      // The scene at a joint repeats what is seen already.
      return before && isAlike(before, after)
        ? null
        : { text: sentence([chosenWords(after, words), frameWords(after, words)]), key: 'scene' };
    case 'frame':
      return before?.isPlaying ? null : { text: sentence([frameWords(after, words)]), key: 'frame' };
    case 'play':
      if (event.isPlaying) return { text: `The clip plays ${speedWords(event.speed)}.`, key: 'play' };
      return before?.isPlaying
        ? { text: sentence(['the clip stops', `on frame ${after.frame}`], ' '), key: 'play' }
        : null;
    case 'look':
      return {
        text:
          event.look.zoom <= 1.05
            ? 'The whole picture is shown.'
            : `The picture is shown ${round(event.look.zoom)} times as large, around the ${placeOf(event.look)}.`,
        key: 'look',
      };
    case 'choose':
      return { text: sentence([chosenWords(after, words)]), key: 'choose' };
    case 'mark':
      return sayMark(event.mark, words);
    case 'grow': {
      const mark = after.marks.find((one) => one.id === event.id);
      return mark ? sayMark(mark, words) : null;
    }
    case 'rub':
      return { text: event.ids.length === 1 ? 'A mark is rubbed out.' : 'Marks are rubbed out.', key: 'rub' };
    case 'chalk':
      return { text: event.isShown ? 'The marks are shown.' : 'The marks are hidden.', key: 'chalk' };
    case 'point':
      return event.at ? { text: `The coach points at the ${placeOf(event.at)}.`, key: 'point' } : null;
    case 'beside':
      return event.beside
        ? {
            text: `Beside it is ${words.clipName(event.beside.clipId)}, frame ${event.beside.frame}.`,
            key: 'beside',
          }
        : { text: 'One clip is shown alone.', key: 'beside' };
    case 'caption':
      return event.text.trim() ? { text: event.text.trim(), key: 'caption' } : null;
    default:
      return event satisfies never;
  }
};

const sayMark = (mark: Mark, { checklist, sizeOf }: TwinWords): Said => {
  const title = checklist.find((item) => item.id === mark.itemId)?.title ?? null;
  return { text: `Drawn: ${describeMark(mark, sizeOf(mark.clipId), title)}.`, key: mark.id, isMark: true };
};

const isAlike = (a: Scene, b: Scene) =>
  a.clipId === b.clipId && a.frame === b.frame && a.checkpoint === b.checkpoint && a.itemId === b.itemId;

const frameWords = (scene: Scene, words: TwinWords) =>
  `${words.clipName(scene.clipId)}, frame ${scene.frame}`;

const chosenWords = ({ checkpoint, itemId }: Scene, { checklist }: TwinWords): string => {
  const item = checklist.find((one) => one.id === itemId)?.title;
  const moment = checkpoint && CHECKPOINT_NAME[checkpoint];
  return [moment, item].filter(Boolean).join(': ') || 'The whole swing';
};

const speedWords = (speed: number) => (speed === 1 ? 'at full speed' : `at ${round(speed)} of its speed`);

const round = (value: number) => String(Math.round(value * 100) / 100);

const sentence = (parts: readonly string[], joint = '. '): string => {
  const text = parts.filter(Boolean).join(joint);
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
};
