import { changesBetween, isSame, type Change } from './changes';
import { calibrationKey, jointKey, pinKey } from './parse-sheet';
import type { Sheet } from './sheet';

/** One thing that both sides changed, and differently; both versions are kept here until a person chooses. */
export interface Conflict {
  readonly thing: Change['thing'] | 'order of cues';
  readonly key: string;
  readonly mine: unknown;
  readonly theirs: unknown;
}

export interface Merge {
  /** Both sides' changes together; where both changed one thing, mine stands in it. */
  readonly withMine: Sheet;
  /** The same, where theirs stands in what both changed. */
  readonly withTheirs: Sheet;
  /** What both changed, and differently. Empty: both sheets above are equal and nothing needs a choice. */
  readonly conflicts: readonly Conflict[];
}

/**
 * Joins two sheets that grew from `base`. What only one side changed is taken from that side, what both changed alike
 * is taken once, and what both changed differently is reported with both versions. Things are told apart by their key
 * (checkpoint and clip, item, cue id, mark id). A removal is a change like any other.
 */
export const mergeSheets = (base: Sheet, mine: Sheet, theirs: Sheet): Merge => {
  const myChanges = new Map(changesBetween(base, mine).map((c) => [nameKey(c), c]));
  const conflicts: Conflict[] = [];
  for (const their of changesBetween(base, theirs)) {
    const my = myChanges.get(nameKey(their));
    if (my && !isSame(my.after, their.after)) {
      conflicts.push({ thing: their.thing, key: their.key, mine: my.after, theirs: their.after });
    }
  }
  const cueIds = [base, mine, theirs].map((s) => s.cues.map((c) => c.id)) as [string[], string[], string[]];
  const orders = [reordered(cueIds[0], cueIds[1]), reordered(cueIds[0], cueIds[2])];
  const common = new Set(cueIds[0].filter((id) => cueIds[1].includes(id) && cueIds[2].includes(id)));
  const [myOrder, theirOrder] = [cueIds[1], cueIds[2]].map((ids) => ids.filter((id) => common.has(id)));
  if (orders[0] && orders[1] && !isSame(myOrder, theirOrder)) {
    conflicts.push({ thing: 'order of cues', key: 'order of cues', mine: myOrder, theirs: theirOrder });
  }
  return {
    withMine: join(base, mine, theirs),
    withTheirs: conflicts.length === 0 ? join(base, mine, theirs) : join(base, theirs, mine),
    conflicts,
  };
};

const nameKey = (c: { thing: string; key: string }) => `${c.thing} ${c.key}`;

/** Takes every change of `first`, and those of `second` that `first` did not touch. */
const join = (base: Sheet, first: Sheet, second: Sheet): Sheet => ({
  version: 1,
  pins: joinList(base.pins, first.pins, second.pins, pinKey),
  answers: joinList(base.answers, first.answers, second.answers, (a) => a.itemId),
  fixFirst: isSame(base.fixFirst, first.fixFirst) ? second.fixFirst : first.fixFirst,
  cues: joinList(base.cues, first.cues, second.cues, (c) => c.id),
  marks: joinList(base.marks, first.marks, second.marks, (m) => m.id),
  calibrations: joinList(base.calibrations, first.calibrations, second.calibrations, calibrationKey),
  joints: joinList(base.joints, first.joints, second.joints, jointKey),
  assignments: joinList(base.assignments, first.assignments, second.assignments, (a) => a.id),
});

const joinList = <T>(
  base: readonly T[],
  first: readonly T[],
  second: readonly T[],
  keyOf: (entry: T) => string,
): T[] => {
  const [b, f, s] = [base, first, second].map((list) => new Map(list.map((e) => [keyOf(e), e]))) as [
    Map<string, T>,
    Map<string, T>,
    Map<string, T>,
  ];
  const chosen = (key: string): T | undefined => (isSame(b.get(key), f.get(key)) ? s.get(key) : f.get(key));
  // The order of whichever side moved things; additions follow, in an order that does not depend on who is "mine".
  const lead = reordered([...b.keys()], [...f.keys()]) ? f : reordered([...b.keys()], [...s.keys()]) ? s : b;
  const old = [...lead.keys()].filter((key) => b.has(key));
  const addedBy = (side: Map<string, T>) => [...side.keys()].filter((key) => !b.has(key));
  const added = [addedBy(f), addedBy(s)].sort(([x = ''], [y = '']) => (x < y ? -1 : x > y ? 1 : 0)).flat();
  return [...new Set([...old, ...b.keys(), ...added])].map(chosen).filter((entry) => entry !== undefined);
};

/** Whether the entries that both lists hold stand in another order. */
const reordered = (before: readonly string[], after: readonly string[]): boolean => {
  const isIn = new Set(after);
  const wasIn = new Set(before);
  return !isSame(
    before.filter((key) => isIn.has(key)),
    after.filter((key) => wasIn.has(key)),
  );
};
