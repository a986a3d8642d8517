import type { BreakdownEvent, Scene } from '@/lib/domain/breakdowns/event';
import type { FramePoint, Mark } from '@/lib/domain/marks/mark';
import type { Chalkboard } from '../input/chalkboard-state';
import type { Player } from '../player/player';
import { changesOf, tidyLook, tidyMark, tidyPoint, type Change } from './scene-diff';

/** What is on the stage: one clip with its player and chalk. */
export interface OnStage {
  readonly clipId: string;
  readonly player: Pick<Player, 'getSnapshot' | 'subscribe'>;
  readonly board: Pick<Chalkboard, 'getSnapshot' | 'subscribe' | 'onScene' | 'look' | 'allMarks' | 'pointAt'>;
  /** Heard for the hand of the coach. */
  readonly stage: HTMLElement;
}

/** What the bench knows besides: the place on the checklist, a clip held beside, a written cue. */
export type AroundStage = Pick<Scene, 'checkpoint' | 'itemId' | 'beside' | 'caption'>;

export interface EventTap {
  /** Watches this stage from now on; null while another clip opens (the last scene stands). */
  watch(onStage: OnStage | null): void;
  around(change: Partial<AroundStage>): void;
  /** The scene as it is, or null before there ever was one. */
  scene(): Scene | null;
  /** Begins to write: the whole scene at 0, then what changes, stamped by `nowMs`. False without a scene. */
  begin(nowMs: () => number): boolean;
  /** What was written since the last call, in order of time. */
  drain(): BreakdownEvent[];
  /** Nothing is written any more until `begin`. While a take rests, changes are gathered and written once it goes on. */
  rest(isResting: boolean): void;
  end(): void;
  dispose(): void;
}

/** A growing mark and a moving hand are written this often at most, in milliseconds. */
const MARK_EVERY = 50;
const POINT_EVERY = 50;

/** Turns what happens on the bench into events. Frames, choices and finished marks are written at once. */
export const createEventTap = (now: () => number = () => performance.now()): EventTap => {
  let on: OnStage | null = null;
  let stop: () => void = () => undefined;
  let around: AroundStage = { checkpoint: null, itemId: null, beside: null, caption: '' };
  let hand: FramePoint | null = null;
  let known: Scene | null = null;
  let written: Scene | null = null;
  let nowMs: (() => number) | null = null;
  let isResting = false;
  let events: BreakdownEvent[] = [];
  /** Lines that were written as they grew: once lifted they are written whole. */
  const grown = new Set<string>();
  let wroteMarkAt = -Infinity;
  let wrotePointAt = -Infinity;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const read = (): Scene | null => {
    if (!on) return known && { ...known, ...around };
    const shown = on.player.getSnapshot();
    const chalk = on.board.getSnapshot();
    const frame = shown.shownFrame;
    if (frame === null) return known && { ...known, ...around };
    const { all, inHand } = on.board.allMarks();
    // While the hand draws, the growing mark says where it is.
    const at = inHand.size > 0 ? null : (chalk.cursor ?? hand);
    return {
      clipId: on.clipId,
      frame,
      speed: shown.speed,
      isPlaying: shown.mode === 'playing',
      look: tidyLook(on.board.look()),
      marks: [...all],
      isChalkShown: chalk.isChalkShown,
      pointer: at && tidyPoint(at),
      ...around,
    };
  };
  const sameMarks = (a: readonly Mark[], b: readonly Mark[]) =>
    a.length === b.length && a.every((mark, index) => mark === b[index]);

  const lifted = (scene: Scene, inHand: ReadonlySet<string>): Change[] =>
    [...grown]
      .filter((id) => !inHand.has(id))
      .flatMap((id) => {
        grown.delete(id);
        const mark = scene.marks.find((one) => one.id === id);
        return mark ? [{ kind: 'mark' as const, mark: tidyMark(mark) }] : [];
      });

  const write = () => {
    const scene = read();
    if (!scene) return;
    known = scene;
    if (!nowMs || !written || isResting) return;
    const at = now();
    const inHand = on?.board.allMarks().inHand ?? new Set<string>();
    // The list is made anew with every reading; the marks in it are the same objects until they change.
    const after = sameMarks(written.marks, scene.marks) ? { ...scene, marks: written.marks } : { ...scene };
    let wait = Infinity;
    if (after.marks !== written.marks && inHand.size > 0 && at - wroteMarkAt < MARK_EVERY) {
      after.marks = written.marks;
      wait = MARK_EVERY - (at - wroteMarkAt);
    }
    // A hand that leaves is told at once, one that moves now and then.
    if (after.pointer && at - wrotePointAt < POINT_EVERY && after.pointer !== written.pointer) {
      after.pointer = written.pointer;
      wait = Math.min(wait, POINT_EVERY - (at - wrotePointAt));
    }
    const changes = [...changesOf(written, after, inHand), ...lifted(after, inHand)];
    for (const change of changes) if (change.kind === 'grow') grown.add(change.id);
    const t = nowMs();
    for (const change of changes) events.push({ t, ...change });
    if (after.marks !== written.marks) wroteMarkAt = at;
    if (changes.some((change) => change.kind === 'point')) wrotePointAt = at;
    written = after;
    clearTimeout(timer);
    if (wait < Infinity) timer = setTimeout(write, wait);
  };

  const listenToHand = ({ stage, board }: OnStage) => {
    const signal = new AbortController();
    const options = { signal: signal.signal, passive: true };
    const move = (event: PointerEvent) => {
      hand = board.pointAt(event.clientX, event.clientY);
      write();
    };
    const leave = () => {
      hand = null;
      write();
    };
    stage.addEventListener('pointermove', move, options);
    stage.addEventListener('pointerdown', move, options);
    stage.addEventListener('pointerleave', leave, options);
    stage.addEventListener('pointercancel', leave, options);
    // A finger that is lifted points no more; a mouse still does.
    stage.addEventListener(
      'pointerup',
      (event) => {
        if (event.pointerType === 'touch') leave();
      },
      options,
    );
    return () => signal.abort();
  };

  return {
    watch(next) {
      stop();
      hand = null;
      on = next;
      if (!next) {
        stop = () => undefined;
        return;
      }
      const stops = [
        next.player.subscribe(write),
        next.board.subscribe(write),
        next.board.onScene(write),
        listenToHand(next),
      ];
      stop = () => {
        for (const each of stops) each();
      };
      write();
    },
    around(change) {
      around = { ...around, ...change };
      write();
    },
    scene: () => read(),
    begin(clock) {
      const scene = read();
      if (!scene) return false;
      known = written = scene;
      nowMs = clock;
      isResting = false;
      wroteMarkAt = wrotePointAt = -Infinity;
      grown.clear();
      events = [{ t: 0, kind: 'scene', scene: { ...scene, marks: scene.marks.map(tidyMark) } }];
      return true;
    },
    drain() {
      const taken = events;
      events = [];
      return taken;
    },
    rest(next) {
      isResting = next;
      if (!next) write();
    },
    end() {
      clearTimeout(timer);
      write();
      nowMs = null;
      written = null;
    },
    dispose() {
      stop();
      clearTimeout(timer);
      nowMs = null;
    },
  };
};
