import { applyEvent } from '@/lib/domain/breakdowns/scene';
import type { Scene } from '@/lib/domain/breakdowns/event';
import type { Timeline } from '@/lib/domain/breakdowns/timeline';
import type { Cue } from '@/lib/domain/captions/cue';
import { marksSeen } from '../canvas/paint-scene';

/** At most this many pictures a second: a hand moves faster, an eye does not need it. */
const MOST_A_SECOND = 30;
const LEAST_GAP_MS = 1000 / MOST_A_SECOND;

/** One picture of the file: what is seen from `atMs` until the next one. */
export interface RunPicture {
  readonly atMs: number;
  readonly scene: Scene;
  /** Sentence to lay under it, "" for none. */
  readonly caption: string;
}

/**
 * The pictures that differ from the one before, in order of time, the first at 0. Each stands at the very millisecond
 * of its change unless the one before is less than a thirtieth of a second old; then it comes that little later.
 */
export function* pictureRun(
  timeline: Pick<Timeline, 'events' | 'durationMs'>,
  cues: readonly Cue[],
): Generator<RunPicture> {
  const { events, durationMs } = timeline;
  const first = events[0];
  if (first?.kind !== 'scene') throw new TypeError('A timeline begins with a scene.');
  let scene = first.scene;
  let next = 1;
  let shown: RunPicture | null = null;
  for (const dueMs of changeTimes(timeline, cues)) {
    const atMs: number = shown ? Math.max(dueMs, Math.ceil(shown.atMs + LEAST_GAP_MS)) : 0;
    if (atMs >= durationMs && shown) return;
    for (let event = events[next]; event && event.t <= atMs; event = events[next]) {
      scene = applyEvent(scene, event);
      next += 1;
    }
    const picture: RunPicture = { atMs, scene, caption: captionAt(cues, atMs) };
    if (shown && isSamePicture(shown, picture)) continue;
    yield picture;
    shown = picture;
  }
}

/** Every millisecond at which something may look different, rising, each once. */
const changeTimes = (
  { events, durationMs }: Pick<Timeline, 'events' | 'durationMs'>,
  cues: readonly Cue[],
): number[] => {
  const times = new Set<number>([0]);
  for (const event of events) times.add(event.t);
  for (const cue of cues) times.add(cue.fromMs).add(cue.toMs);
  return [...times].filter((ms) => ms < durationMs).sort((a, b) => a - b);
};

const captionAt = (cues: readonly Cue[], ms: number): string =>
  cues
    .filter((cue) => cue.fromMs <= ms && ms < cue.toMs)
    .map((cue) => cue.text)
    .join('\n');

const isSamePicture = (a: RunPicture, b: RunPicture): boolean =>
  a.caption === b.caption && (a.scene === b.scene || isSameScene(a.scene, b.scene));

const isSameScene = (a: Scene, b: Scene): boolean => {
  if (a.clipId !== b.clipId || a.frame !== b.frame || a.isChalkShown !== b.isChalkShown) return false;
  if (!isSame(a.look, b.look) || !isSame(a.pointer, b.pointer) || !isSame(a.beside, b.beside)) return false;
  if (!a.isChalkShown || a.marks === b.marks) return true;
  const seen = (scene: Scene) => [
    ...marksSeen(scene.marks, scene.clipId, scene.frame),
    ...(scene.beside ? marksSeen(scene.marks, scene.beside.clipId, scene.beside.frame) : []),
  ];
  const [marksOfA, marksOfB] = [seen(a), seen(b)];
  return marksOfA.length === marksOfB.length && marksOfA.every((mark, at) => isSame(mark, marksOfB[at]));
};

const isSame = (a: unknown, b: unknown): boolean => a === b || JSON.stringify(a) === JSON.stringify(b);
