import type { Checkpoint } from '../checkpoints/checkpoint';
import type { Mark } from '../marks/mark';
import { calibrationKey, jointKey, pinKey } from './parse-sheet';
import type { Calibration, Cue, ItemAnswer, Joint, Pin, Sheet, SheetAssignment } from './sheet';

/** What one change is about, with the value before and after; null where the thing is absent. */
export type Change =
  | { readonly thing: 'pin'; readonly key: string; readonly before: Pin | null; readonly after: Pin | null }
  | {
      readonly thing: 'answer';
      readonly key: string;
      readonly before: ItemAnswer | null;
      readonly after: ItemAnswer | null;
    }
  | {
      readonly thing: 'fix-first';
      readonly key: 'fix-first';
      readonly before: Sheet['fixFirst'];
      readonly after: Sheet['fixFirst'];
    }
  | { readonly thing: 'cue'; readonly key: string; readonly before: Cue | null; readonly after: Cue | null }
  | {
      readonly thing: 'mark';
      readonly key: string;
      readonly before: Mark | null;
      readonly after: Mark | null;
    }
  | {
      readonly thing: 'calibration';
      readonly key: string;
      readonly before: Calibration | null;
      readonly after: Calibration | null;
    }
  | {
      readonly thing: 'point';
      readonly key: string;
      readonly before: Joint | null;
      readonly after: Joint | null;
    }
  | {
      readonly thing: 'assignment';
      readonly key: string;
      readonly before: SheetAssignment | null;
      readonly after: SheetAssignment | null;
    };

/** Deep equality of plain JSON data; the order of object keys does not matter, the order of lists does. */
export const isSame = (a: unknown, b: unknown): boolean => {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const left = Object.entries(a).filter(([, value]) => value !== undefined);
  const right = new Map(Object.entries(b).filter(([, value]) => value !== undefined));
  return (
    left.length === right.size &&
    left.every(([key, value]) => right.has(key) && isSame(value, right.get(key)))
  );
};

/** Every thing that differs between two sheets, by key; the order of lists is not a change. */
export const changesBetween = (before: Sheet, after: Sheet): Change[] => [
  ...differing(before.pins, after.pins, pinKey).map((d) => ({ thing: 'pin' as const, ...d })),
  ...differing(before.answers, after.answers, (a) => a.itemId).map((d) => ({
    thing: 'answer' as const,
    ...d,
  })),
  ...(isSame(before.fixFirst, after.fixFirst)
    ? []
    : [
        {
          thing: 'fix-first' as const,
          key: 'fix-first' as const,
          before: before.fixFirst,
          after: after.fixFirst,
        },
      ]),
  ...differing(before.cues, after.cues, (c) => c.id).map((d) => ({ thing: 'cue' as const, ...d })),
  ...differing(before.marks, after.marks, (m) => m.id).map((d) => ({ thing: 'mark' as const, ...d })),
  ...differing(before.calibrations, after.calibrations, calibrationKey).map((d) => ({
    thing: 'calibration' as const,
    ...d,
  })),
  ...differing(before.joints, after.joints, jointKey).map((d) => ({ thing: 'point' as const, ...d })),
  ...differing(before.assignments, after.assignments, (a) => a.id).map((d) => ({
    thing: 'assignment' as const,
    ...d,
  })),
];

const differing = <T>(before: readonly T[], after: readonly T[], keyOf: (entry: T) => string) => {
  const old = new Map(before.map((entry) => [keyOf(entry), entry]));
  const fresh = new Map(after.map((entry) => [keyOf(entry), entry]));
  return [...new Set([...old.keys(), ...fresh.keys()])]
    .map((key) => ({ key, before: old.get(key) ?? null, after: fresh.get(key) ?? null }))
    .filter((d) => !isSame(d.before, d.after));
};

/** What a change is about, in words for the coach: "Foot strike pin", "a mark on frame 138". */
export const nameOfChange = (
  change: Change,
  names: { item: (itemId: string) => string; checkpoint: (checkpoint: Checkpoint) => string },
): string => {
  switch (change.thing) {
    case 'pin': {
      const pin = change.after ?? change.before;
      return pin ? `the frame of ${names.checkpoint(pin.checkpoint)}` : 'a pinned frame';
    }
    case 'answer':
      return names.item(change.key);
    case 'fix-first':
      return 'what to fix first';
    case 'cue': {
      const cue = change.after ?? change.before;
      return cue?.text ? `the cue “${cue.text}”` : 'a cue';
    }
    case 'mark': {
      const mark = change.after ?? change.before;
      return mark ? `a mark on frame ${mark.frame}` : 'a mark';
    }
    case 'calibration':
      return 'the calibration of the ground';
    case 'point':
      return 'a point of the hitter';
    case 'assignment':
      return 'a drill to practise';
    default:
      return change satisfies never;
  }
};
