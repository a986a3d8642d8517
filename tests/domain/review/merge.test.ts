import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changesBetween, isSame, nameOfChange } from '@/lib/domain/review/changes';
import { answer, pin, putCue, putMark, removeMark, setFixFirst } from '@/lib/domain/review/edits';
import { mergeSheets } from '@/lib/domain/review/merge';
import { parseSheet } from '@/lib/domain/review/parse-sheet';
import { emptySheet, type Sheet } from '@/lib/domain/review/sheet';
import { buildMark, CLIP } from '../marks/build-mark';
import { aSheet, buildSheet } from './build-sheet';

const foot = { checkpoint: 'foot_strike' as const, clipId: CLIP, frame: 138, strike: null };
const keysOf = (before: Sheet, after: Sheet) =>
  changesBetween(before, after).map((c) => `${c.thing} ${c.key}`);

describe('mergeSheets', () => {
  it('joins what two people changed in different places', () => {
    const mark = buildMark('line');
    const base = putMark(emptySheet(), mark);
    const mine = pin(answer(base, 'front-foot', { verdict: 'off' }), foot);
    const theirs = removeMark(setFixFirst(base, { itemId: 'front-foot', sentence: 'Land closed.' }), mark.id);
    const { withMine, withTheirs, conflicts } = mergeSheets(base, mine, theirs);
    expect(conflicts).toEqual([]);
    expect(withTheirs).toEqual(withMine);
    expect(withMine).toEqual(buildSheet({ pins: [foot], answers: mine.answers, fixFirst: theirs.fixFirst }));
  });

  it('reports one thing that both changed, with both versions', () => {
    const base = answer(emptySheet(), 'front-foot', { note: 'Hm' });
    const mine = answer(base, 'front-foot', { verdict: 'off' });
    const theirs = answer(base, 'front-foot', { verdict: 'close' });
    const { withMine, withTheirs, conflicts } = mergeSheets(base, mine, theirs);
    expect(conflicts).toEqual([
      { thing: 'answer', key: 'front-foot', mine: mine.answers[0], theirs: theirs.answers[0] },
    ]);
    expect(withMine).toEqual(mine);
    expect(withTheirs).toEqual(theirs);
  });

  it('does not let a removal win over a change, or the other way round, unseen', () => {
    const mark = buildMark('line');
    const base = putMark(emptySheet(), mark);
    const moved = putMark(base, { ...mark, frame: 140 });
    const { conflicts, withMine, withTheirs } = mergeSheets(base, removeMark(base, mark.id), moved);
    expect(conflicts).toEqual([{ thing: 'mark', key: mark.id, mine: null, theirs: { ...mark, frame: 140 } }]);
    expect(withMine.marks).toEqual([]);
    expect(withTheirs.marks).toEqual(moved.marks);
  });

  it('reports two cues put in different order by both', () => {
    const cues = ['a', 'b', 'c'].map((x) => ({
      id: `018f5e2a-0000-7000-8000-00000000000${x}`,
      text: x,
      focus: 'external' as const,
    }));
    const [a, b, c] = cues as [(typeof cues)[0], (typeof cues)[0], (typeof cues)[0]];
    const base = buildSheet({ cues: [a, b, c] });
    const { conflicts, withMine, withTheirs } = mergeSheets(
      base,
      buildSheet({ cues: [b, a, c] }),
      buildSheet({ cues: [a, c, b] }),
    );
    expect(conflicts.map((x) => x.thing)).toEqual(['order of cues']);
    expect(withMine.cues).toEqual([b, a, c]);
    expect(withTheirs.cues).toEqual([a, c, b]);
    expect(mergeSheets(base, buildSheet({ cues: [b, a, c] }), base).withMine.cues).toEqual([b, a, c]);
    expect(mergeSheets(base, base, buildSheet({ cues: [b, a, c] })).withMine.cues).toEqual([b, a, c]);
  });

  it('gives a sheet joined with itself back', () => {
    fc.assert(
      fc.property(aSheet(), aSheet(), (base, sheet) => {
        const merge = mergeSheets(base, sheet, sheet);
        expect(merge.conflicts).toEqual([]);
        expect(changesBetween(sheet, merge.withMine)).toEqual([]);
      }),
    );
  });

  it('takes the whole of one side when the other did nothing', () => {
    fc.assert(
      fc.property(aSheet(), aSheet(), (base, changed) => {
        for (const merge of [mergeSheets(base, changed, base), mergeSheets(base, base, changed)]) {
          expect(merge.conflicts).toEqual([]);
          expect(changesBetween(changed, merge.withMine)).toEqual([]);
        }
      }),
    );
  });

  it('does not care who is called mine: same conflicts, and without any the same sheet to the last place', () => {
    fc.assert(
      fc.property(aSheet(), aSheet(), aSheet(), (base, x, y) => {
        const there = mergeSheets(base, x, y);
        const back = mergeSheets(base, y, x);
        expect(back.conflicts.map((c) => `${c.thing} ${c.key}`).sort()).toEqual(
          there.conflicts.map((c) => `${c.thing} ${c.key}`).sort(),
        );
        expect(changesBetween(there.withMine, back.withTheirs)).toEqual([]);
        if (there.conflicts.length === 0) expect(back.withMine).toEqual(there.withMine);
      }),
      { numRuns: 400 },
    );
  });

  it('loses nothing: every change of either side is in the result or in a reported conflict', () => {
    fc.assert(
      fc.property(aSheet(), aSheet(), aSheet(), (base, mine, theirs) => {
        const { withMine, conflicts } = mergeSheets(base, mine, theirs);
        const told = new Set(conflicts.map((c) => `${c.thing} ${c.key}`));
        const left = new Set([...keysOf(mine, withMine)].filter((key) => keysOf(base, mine).includes(key)));
        expect([...left]).toEqual([]);
        const lost = keysOf(theirs, withMine).filter(
          (key) => keysOf(base, theirs).includes(key) && !told.has(key),
        );
        expect(lost).toEqual([]);
      }),
      { numRuns: 400 },
    );
  });

  it('makes a sheet that can be stored', () => {
    fc.assert(
      fc.property(aSheet(), aSheet(), aSheet(), (base, mine, theirs) => {
        const { withMine } = mergeSheets(base, mine, theirs);
        expect(parseSheet(withMine)).toEqual(withMine);
      }),
    );
  });
});

describe('changesBetween', () => {
  it('names what differs, with both values', () => {
    const after = pin(emptySheet(), foot);
    expect(changesBetween(emptySheet(), after)).toEqual([
      { thing: 'pin', key: `${CLIP}/foot_strike`, before: null, after: foot },
    ]);
    expect(changesBetween(after, after)).toEqual([]);
  });

  it('has words for each of them', () => {
    const mark = buildMark('line', { frame: 12 });
    const cue = {
      id: '018f5e2a-0000-7000-8000-00000000000a',
      text: 'Toe to the tee',
      focus: 'external' as const,
    };
    let sheet = pin(answer(emptySheet(), 'front-foot', { verdict: 'set' }), foot);
    sheet = putMark(putCue(setFixFirst(sheet, { itemId: 'front-foot', sentence: '' }), cue), mark);
    const names = { item: (id: string) => `item ${id}`, checkpoint: () => 'Foot strike' };
    expect(changesBetween(emptySheet(), sheet).map((c) => nameOfChange(c, names))).toEqual([
      'the frame of Foot strike',
      'item front-foot',
      'what to fix first',
      'the cue “Toe to the tee”',
      'a mark on frame 12',
    ]);
  });

  it('does not take the order of keys, or an absent field, for a difference', () => {
    expect(isSame({ a: 1, b: [1, { c: 2 }] }, { b: [1, { c: 2 }], a: 1, d: undefined })).toBe(true);
    expect(isSame([1, 2], [2, 1])).toBe(false);
    expect(isSame({}, [])).toBe(false);
    expect(isSame({ a: undefined }, { b: 1 })).toBe(false);
    expect(isSame(null, {})).toBe(false);
  });
});
