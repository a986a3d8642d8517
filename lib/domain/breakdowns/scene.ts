import type { BreakdownEvent, Scene } from './event';
import type { Timeline } from './timeline';

/** As many points as a free-hand mark holds (`markSchema`), and as many marks as a scene holds (`sceneSchema`). */
const MOST_POINTS = 2000;
const MOST_MARKS = 400;

/** This many events at most are folded for one seek. */
const EVENTS_PER_KEYFRAME = 128;

/**
 * The scene after one more event. Total: an event that names a mark which is not there, or that would make a mark or
 * the list of marks longer than their shapes allow, changes nothing (see FORMAT.md). The given scene is left as it is.
 */
export const applyEvent = (scene: Scene, event: BreakdownEvent): Scene => {
  switch (event.kind) {
    case 'scene':
      return event.scene;
    case 'frame':
      return { ...scene, clipId: event.clipId, frame: event.frame };
    case 'play':
      return { ...scene, isPlaying: event.isPlaying, speed: event.speed };
    case 'look':
      return { ...scene, look: event.look };
    case 'choose':
      return { ...scene, checkpoint: event.checkpoint, itemId: event.itemId };
    case 'mark':
      return { ...scene, marks: putMark(scene.marks, event.mark) };
    case 'grow':
      return { ...scene, marks: scene.marks.map((mark) => grown(mark, event)) };
    case 'rub':
      return { ...scene, marks: scene.marks.filter((mark) => !event.ids.includes(mark.id)) };
    case 'chalk':
      return { ...scene, isChalkShown: event.isShown };
    case 'point':
      return { ...scene, pointer: event.at };
    case 'beside':
      return { ...scene, beside: event.beside };
    case 'caption':
      return { ...scene, caption: event.text };
    default:
      return event satisfies never;
  }
};

const putMark = (marks: Scene['marks'], mark: Scene['marks'][number]): Scene['marks'] => {
  if (marks.some((other) => other.id === mark.id))
    return marks.map((other) => (other.id === mark.id ? mark : other));
  return marks.length < MOST_MARKS ? [...marks, mark] : marks;
};

const grown = (mark: Scene['marks'][number], event: Extract<BreakdownEvent, { kind: 'grow' }>) => {
  if (mark.id !== event.id || mark.kind !== 'freehand') return mark;
  return { ...mark, points: [...mark.points, ...event.points].slice(0, MOST_POINTS) };
};

/** A timeline made ready for seeking: scenes at regular places of its list of events. Made once, kept in memory. */
export interface TimelineIndex {
  readonly events: readonly BreakdownEvent[];
  readonly durationMs: number;
  /** `keyframes[k]` is the scene after event `k * EVENTS_PER_KEYFRAME`. */
  readonly keyframes: readonly Scene[];
}

/** Folds the whole timeline once. Takes a timeline that `parseTimeline` or `joinPieces` gave. */
export const indexTimeline = (
  timeline: Readonly<Pick<Timeline, 'durationMs'>> & { readonly events: readonly BreakdownEvent[] },
): TimelineIndex => {
  const { events, durationMs } = timeline;
  const first = events[0];
  if (first?.kind !== 'scene') throw new TypeError('A timeline begins with a scene.');
  const keyframes: Scene[] = [];
  let scene = first.scene;
  events.forEach((event, at) => {
    scene = applyEvent(scene, event);
    if (at % EVENTS_PER_KEYFRAME === 0) keyframes.push(scene);
  });
  return { events, durationMs, keyframes };
};

/** How many of the events have happened by `ms` (those at `ms` included). */
export const countUpTo = (events: readonly BreakdownEvent[], ms: number): number => {
  let low = 0;
  let high = events.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((events[middle]?.t ?? Infinity) <= ms) low = middle + 1;
    else high = middle;
  }
  return low;
};

/** What is seen at `ms` of the breakdown: every event up to and at `ms` has happened. Before 0 it is the first scene. */
export const sceneAt = (index: TimelineIndex, ms: number): Scene => {
  const last = Math.max(1, countUpTo(index.events, ms)) - 1;
  const keyframe = Math.floor(last / EVENTS_PER_KEYFRAME);
  let scene = index.keyframes[keyframe];
  if (!scene) throw new TypeError('A timeline begins with a scene.');
  for (const event of index.events.slice(keyframe * EVENTS_PER_KEYFRAME + 1, last + 1))
    scene = applyEvent(scene, event);
  return scene;
};

/** The events after `afterMs` up to and at `toMs`, in order. */
export const eventsBetween = (
  index: Pick<TimelineIndex, 'events'>,
  afterMs: number,
  toMs: number,
): readonly BreakdownEvent[] =>
  index.events.slice(countUpTo(index.events, afterMs), countUpTo(index.events, toMs));
