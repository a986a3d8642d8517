import { describe, expect, it } from 'vitest';
import { plainDose } from '@/lib/domain/drills/dose';
import { changesBetween, nameOfChange } from '@/lib/domain/review/changes';
import { MAX_ASSIGNMENTS, putAssignment, removeAssignment } from '@/lib/domain/review/edits';
import { mergeSheets } from '@/lib/domain/review/merge';
import { missingForReturn } from '@/lib/domain/review/missing';
import { parseSheet } from '@/lib/domain/review/parse-sheet';
import { emptySheet, type SheetAssignment } from '@/lib/domain/review/sheet';
import { CLIP, nextId } from '../marks/build-mark';

const given = (over: Partial<SheetAssignment> = {}): SheetAssignment => ({
  id: nextId(),
  drillId: CLIP,
  dose: plainDose('tee', { x: 0.4, y: 0 }),
  cue: '',
  swingBy: null,
  ...over,
});

describe('drills on the sheet', () => {
  it('are given, changed by id and taken out; a sheet from before drills reads as one without', () => {
    const one = given();
    const first = putAssignment(emptySheet(), one);
    const changed = putAssignment(first, { ...one, cue: 'Belt to the mound', swingBy: '2026-06-14' });
    expect(changed.assignments).toEqual([{ ...one, cue: 'Belt to the mound', swingBy: '2026-06-14' }]);
    expect(parseSheet(changed)).toEqual(changed);
    expect(removeAssignment(changed, one.id)).toEqual(emptySheet());
    const { assignments: _none, ...old } = emptySheet();
    expect(parseSheet(old)).toEqual(emptySheet());
  });

  it('refuses a thirteenth, and the same id twice', () => {
    const full = Array.from({ length: MAX_ASSIGNMENTS }, () => given()).reduce(putAssignment, emptySheet());
    expect(() => putAssignment(full, given())).toThrow(/at most 12 drills/);
    const one = given();
    expect(() => parseSheet({ ...emptySheet(), assignments: [one, one] })).toThrow();
  });

  it('reminds of the fourth, and does not lock', () => {
    const kinds = (count: number) =>
      missingForReturn(Array.from({ length: count }, () => given()).reduce(putAssignment, emptySheet()), [])
        .filter((one) => one.kind === 'many-drills')
        .map((one) => one.blocks);
    expect(kinds(3)).toEqual([]);
    expect(kinds(4)).toEqual([false]);
  });

  it('are joined by id, and named where two changed one', () => {
    const one = given();
    const base = putAssignment(emptySheet(), one);
    const mine = putAssignment(base, { ...one, cue: 'mine' });
    const theirs = putAssignment(putAssignment(base, { ...one, cue: 'theirs' }), given());
    const merge = mergeSheets(base, mine, theirs);
    expect(merge.conflicts).toMatchObject([{ thing: 'assignment', key: one.id }]);
    expect(merge.withMine.assignments.map((a) => a.cue)).toEqual(['mine', '']);
    const [change] = changesBetween(base, mine);
    expect(nameOfChange(change!, { item: String, checkpoint: String })).toBe('a drill to practise');
  });
});
