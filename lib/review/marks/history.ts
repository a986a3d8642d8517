import { isSame } from '@/lib/domain/review/changes';
import type { Mark } from '@/lib/domain/marks/mark';

/** One thing that a gesture did to one mark; `at` is its place in the drawing order. */
interface Step {
  readonly before: Mark | null;
  readonly after: Mark | null;
  readonly at: number;
}
type Entry = readonly Step[];

export interface MarkHistory {
  /** The marks as they are now, with those of a gesture that still goes on. */
  readonly marks: readonly Mark[];
  /** The marks without those of a gesture that still goes on: what may be saved. */
  readonly settled: readonly Mark[];
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  readonly isInGesture: boolean;
  /** Opens a gesture; one that is still open is given up first. */
  begin(): void;
  /** What the marks look like for now; only inside a gesture. */
  show(marks: readonly Mark[]): void;
  /** Ends the gesture as one entry. Answers false, and keeps what can be brought back, when it changed nothing. */
  commit(): boolean;
  /** Ends the gesture without a trace: the marks are as at `begin`, and what can be brought back is kept. */
  bail(): void;
  /** Takes the last entry back; answers the marks that changed, as they are after it (or were, when gone). */
  undo(): readonly Mark[];
  /** Brings the last taken back entry again; answers as `undo`. */
  redo(): readonly Mark[];
  /** Takes marks that came from elsewhere (another tab, another coach) without an entry. */
  adopt(marks: readonly Mark[]): void;
}

/** A history over the marks of a lesson. Keeps at most `most` entries; the oldest are forgotten first. */
export const createMarkHistory = (initial: readonly Mark[], most = 200): MarkHistory => {
  let committed = initial;
  let provisional: readonly Mark[] | null = null;
  let done: Entry[] = [];
  let undone: Entry[] = [];

  const push = (list: Entry[], entry: Entry) => [...list, entry].slice(-most);
  const play = (entry: Entry, side: 'before' | 'after') => {
    const other = side === 'before' ? 'after' : 'before';
    // Each step is found by its id, because marks may have come or gone from elsewhere meanwhile.
    const steps = side === 'before' ? entry.toReversed() : entry;
    for (const step of steps) {
      const id = (step.before ?? step.after)?.id;
      const wanted = step[side];
      const at = committed.findIndex((m) => m.id === id);
      if (!wanted) committed = committed.filter((m) => m.id !== id);
      else committed = at < 0 ? committed.toSpliced(step.at, 0, wanted) : committed.with(at, wanted);
    }
    return entry.map((step) => step[side] ?? step[other]).filter((m) => m !== null);
  };
  const bail = () => {
    provisional = null;
  };

  return {
    get marks() {
      return provisional ?? committed;
    },
    get settled() {
      return committed;
    },
    get canUndo() {
      return done.length > 0;
    },
    get canRedo() {
      return undone.length > 0;
    },
    get isInGesture() {
      return provisional !== null;
    },
    begin: () => {
      provisional = committed;
    },
    show: (marks) => {
      if (provisional) provisional = marks;
    },
    commit: () => {
      const entry = provisional ? stepsBetween(committed, provisional) : [];
      if (provisional && entry.length > 0) {
        committed = provisional;
        done = push(done, entry);
        undone = [];
      }
      provisional = null;
      return entry.length > 0;
    },
    bail,
    undo: () => {
      bail();
      const entry = done.at(-1);
      if (!entry) return [];
      done = done.slice(0, -1);
      undone = push(undone, entry);
      return play(entry, 'before');
    },
    redo: () => {
      bail();
      const entry = undone.at(-1);
      if (!entry) return [];
      undone = undone.slice(0, -1);
      done = push(done, entry);
      return play(entry, 'after');
    },
    adopt: (marks) => {
      bail();
      committed = marks;
    },
  };
};

/** Removals first, from the end, then changes and additions from the start: so that places hold when it is played. */
const stepsBetween = (before: readonly Mark[], after: readonly Mark[]): Step[] => {
  const old = new Map(before.map((m, at) => [m.id, { mark: m, at }]));
  const fresh = new Map(after.map((m) => [m.id, m]));
  const removed = before
    .map((mark, at): Step => ({ before: mark, after: null, at }))
    .filter((step) => step.before && !fresh.has(step.before.id))
    .toReversed();
  const put = after
    .map((mark, at): Step => ({ before: old.get(mark.id)?.mark ?? null, after: mark, at }))
    .filter((step) => !isSame(step.before, step.after));
  return [...removed, ...put];
};
