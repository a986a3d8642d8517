import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import * as edits from '@/lib/domain/review/edits';
import { isReadyToReturn, missingForReturn } from '@/lib/domain/review/missing';
import { parseSheet } from '@/lib/domain/review/parse-sheet';
import { emptySheet, type Sheet } from '@/lib/domain/review/sheet';
import { CagepostError } from '@/lib/domain/shared/errors';
import { buildMark, CLIP, nextId } from '../marks/build-mark';
import { aSheet, buildSheet } from './build-sheet';

const faultOf = (attempt: () => unknown) => {
  try {
    attempt();
  } catch (error) {
    return error instanceof CagepostError ? error.fault : error;
  }
  return 'accepted';
};
const foot = { checkpoint: 'foot_strike' as const, clipId: CLIP, frame: 138, strike: 'full_plant' as const };
const cue = (text = 'Belt to the mound') => ({ id: nextId(), text, focus: 'external' as const });

describe('parseSheet', () => {
  it('gives back every sheet it is given, after a trip through JSON', () => {
    fc.assert(
      fc.property(aSheet(), (sheet) => {
        expect(parseSheet(JSON.parse(JSON.stringify(sheet)))).toEqual(sheet);
      }),
    );
  });

  it.each([
    ['nothing', null],
    ['no version', { ...emptySheet(), version: undefined }],
    ['a part missing', { version: 1, pins: [] }],
    ['two pins of one checkpoint on one clip', buildSheet({ pins: [foot, { ...foot, frame: 139 }] })],
    [
      'two answers to one item',
      buildSheet({ answers: [1, 2].map((frame) => ({ ...edits.answerOf(emptySheet(), 'x1'), frame })) }),
    ],
    ['a bad mark', buildSheet({ marks: [{ ...buildMark('line'), chalk: 'red' as never }] })],
    [
      'a verdict that we do not have',
      { ...emptySheet(), answers: [{ ...edits.answerOf(emptySheet(), 'x1'), verdict: 'A+' }] },
    ],
    [
      'a note without end',
      buildSheet({ answers: [{ ...edits.answerOf(emptySheet(), 'x1'), note: 'x'.repeat(1001) }] }),
    ],
  ])('refuses %s', (_, raw) => {
    expect(faultOf(() => parseSheet(raw))).toBe('invalid');
  });

  it('refuses two cues or two marks with one id', () => {
    const [c, m] = [cue(), buildMark('line')];
    expect(faultOf(() => parseSheet(buildSheet({ cues: [c, c] })))).toBe('invalid');
    expect(faultOf(() => parseSheet(buildSheet({ marks: [m, m] })))).toBe('invalid');
  });

  it('tells a newer sheet, or newer marks in it, apart from a broken one', () => {
    expect(faultOf(() => parseSheet({ ...emptySheet(), version: 2 }))).toBe('conflict');
    expect(
      faultOf(() => parseSheet({ ...emptySheet(), marks: [{ ...buildMark('line'), version: 2 }] })),
    ).toBe('conflict');
  });
});

describe('edits', () => {
  it('moves a pin instead of setting a second one', () => {
    const sheet = edits.pin(edits.pin(emptySheet(), foot), { ...foot, frame: 140, strike: 'toe' });
    expect(sheet.pins).toEqual([{ ...foot, frame: 140, strike: 'toe' }]);
    expect(edits.pinOf(sheet, 'foot_strike', CLIP)?.frame).toBe(140);
    expect(edits.unpin(sheet, 'foot_strike', CLIP).pins).toEqual([]);
    expect(edits.unpin(sheet, 'load', CLIP)).toEqual(sheet);
  });

  it('changes parts of an answer and leaves the others', () => {
    const judged = edits.answer(emptySheet(), 'front-foot', { verdict: 'off', clipId: CLIP, frame: 138 });
    const noted = edits.answer(judged, 'front-foot', { note: 'It lands early.' });
    expect(edits.answerOf(noted, 'front-foot')).toEqual({
      itemId: 'front-foot',
      verdict: 'off',
      note: 'It lands early.',
      clipId: CLIP,
      frame: 138,
    });
    expect(
      edits.answer(edits.answer(noted, 'front-foot', { verdict: null, note: '' }), 'front-foot', {
        frame: null,
        clipId: null,
      }).answers,
    ).toEqual([]);
  });

  it('sets and takes back the fix first', () => {
    const sheet = edits.setFixFirst(emptySheet(), { itemId: 'front-foot', sentence: 'Land closed.' });
    expect(sheet.fixFirst?.sentence).toBe('Land closed.');
    expect(edits.setFixFirst(sheet, null)).toEqual(emptySheet());
  });

  it('adds, changes and removes cues and marks by id', () => {
    const [c, m] = [cue(), buildMark('line')];
    let sheet = edits.putMark(edits.putCue(emptySheet(), c), m);
    sheet = edits.putMark(edits.putCue(sheet, { ...c, focus: 'internal' }), { ...m, chalk: 'sky' });
    expect(sheet.cues).toEqual([{ ...c, focus: 'internal' }]);
    expect(sheet.marks).toEqual([{ ...m, chalk: 'sky' }]);
    expect(edits.removeMark(edits.removeCue(sheet, c.id), m.id)).toEqual(emptySheet());
  });

  it('refuses a thirteenth cue and a 401st mark, and says what is kept', () => {
    const full = buildSheet({
      cues: Array.from({ length: 12 }, () => cue()),
      marks: Array.from({ length: 400 }, () => buildMark('line')),
    });
    expect(faultOf(() => edits.putCue(full, cue()))).toBe('too-large');
    expect(faultOf(() => edits.putMark(full, buildMark('line')))).toBe('too-large');
    expect(edits.putCue(full, { ...full.cues[0]!, text: 'Changed' }).cues).toHaveLength(12);
  });

  it('answers a sheet that can be stored, and never touches the one it was given', () => {
    fc.assert(
      fc.property(aSheet(), (sheet) => {
        const before = structuredClone(sheet);
        let next = edits.pin(sheet, foot);
        next = edits.answer(next, 'front-foot', { verdict: 'close' });
        next = edits.putCue(next, { ...cue(), id: '018f5e2a-9900-7000-8000-000000000000' });
        next = edits.putMark(next, buildMark('plumb'));
        expect(parseSheet(next)).toEqual(next);
        expect(sheet).toEqual(before);
      }),
    );
  });
});

describe('missingForReturn', () => {
  const checklist: Checklist = ['front-foot', 'full-finish'].map((id) => ({
    id,
    checkpoint: 'foot_strike',
    title: id,
    lookFor: '',
    views: ['open_side'],
    standing: 'Common practice, no source',
  }));
  const ready: Sheet = buildSheet({
    fixFirst: { itemId: 'front-foot', sentence: 'Land closed.' },
    answers: ['front-foot', 'full-finish'].map((itemId) => ({
      ...edits.answerOf(emptySheet(), itemId),
      verdict: 'off',
    })),
  });
  const kinds = (sheet: Sheet) =>
    missingForReturn(sheet, checklist).map((m) => `${m.blocks ? 'blocks' : 'reminds'} ${m.kind}`);

  it('finds nothing on a finished sheet', () => {
    expect(kinds(ready)).toEqual([]);
    expect(isReadyToReturn(ready, checklist)).toBe(true);
  });

  it('blocks an empty sheet on both counts', () => {
    expect(kinds(emptySheet())).toEqual(['blocks no-fix-first', 'blocks nothing-judged']);
    expect(isReadyToReturn(emptySheet(), checklist)).toBe(false);
  });

  it('wants a sentence for the fix first', () => {
    expect(kinds({ ...ready, fixFirst: { itemId: 'front-foot', sentence: '  ' } })).toEqual([
      'blocks no-sentence',
    ]);
  });

  it('does not accept a fix first or a verdict on an item that the checklist lost', () => {
    expect(kinds({ ...ready, fixFirst: { itemId: 'old-item', sentence: 'x' } })).toEqual([
      'blocks fix-first-gone',
    ]);
    const stale = { ...ready, answers: [{ ...ready.answers[0]!, itemId: 'old-item' }] };
    expect(kinds(stale)).toEqual(['blocks nothing-judged']);
  });

  it('only reminds of items left and of many cues', () => {
    const sheet = { ...ready, answers: ready.answers.slice(0, 1), cues: [1, 2, 3, 4].map(() => cue()) };
    expect(kinds(sheet)).toEqual(['reminds to-judge', 'reminds many-cues']);
    expect(isReadyToReturn(sheet, checklist)).toBe(true);
    expect(missingForReturn(sheet, checklist)[0]?.sentence).toContain('1 of 2 items to judge');
  });

  it('counts a note without a verdict as still to judge', () => {
    const sheet = {
      ...ready,
      answers: [ready.answers[0]!, { ...ready.answers[1]!, verdict: null, note: 'Look again' }],
    };
    expect(kinds(sheet)).toEqual(['reminds to-judge']);
  });

  it('does not count cues that are still empty', () => {
    expect(kinds({ ...ready, cues: [cue(), cue(), cue(), cue(' ')] })).toEqual([]);
  });
});
