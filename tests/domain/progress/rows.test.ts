import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';
import { CHECKPOINTS, type Verdict } from '@/lib/domain/checkpoints/checkpoint';
import { toCsv } from '@/lib/domain/progress/csv';
import { itemRows } from '@/lib/domain/progress/item-rows';
import { nearestPartner, type ComparableClip } from '@/lib/domain/progress/partner';
import type { ClipId } from '@/lib/domain/shared/ids';
import { buildSheet } from '../review/build-sheet';

const judged = (verdicts: Record<string, Verdict>) =>
  buildSheet({
    answers: Object.entries(verdicts).map(([itemId, verdict]) => ({
      itemId,
      verdict,
      note: '',
      clipId: null,
      frame: null,
    })),
  });

describe('the checklist across lessons', () => {
  const [first, second] = DEFAULT_CHECKLIST;
  const extra = { ...first!, id: 'own-item', title: 'An item of our own', checkpoint: 'finish' as const };
  const rows = itemRows([
    { checklist: [first!], sheet: judged({ [first!.id]: 'off' }) },
    { checklist: [{ ...first!, title: 'Renamed' }, second!], sheet: judged({ [first!.id]: 'set' }) },
    { checklist: [{ ...first!, title: 'Renamed' }, second!, extra], sheet: null },
  ]);

  test('each item has a state for each lesson; what was not on the list then is its own state', () => {
    expect(rows.map(({ title, states }) => [title, ...states])).toEqual([
      ['Renamed', 'off', 'set', 'waiting'],
      [second!.title, 'not-on-list', 'not-judged', 'waiting'],
      ['An item of our own', 'not-on-list', 'not-on-list', 'waiting'],
    ]);
  });

  test('an item that the newest checklist no longer has keeps its row', () => {
    const gone = itemRows([
      { checklist: [first!, extra], sheet: judged({ 'own-item': 'close' }) },
      { checklist: [first!], sheet: judged({}) },
    ]);
    expect(gone.at(-1)).toMatchObject({ itemId: 'own-item', states: ['close', 'retired'] });
  });

  test('stands in swing order', () => {
    const order = itemRows([{ checklist: [...DEFAULT_CHECKLIST].reverse(), sheet: null }]).map((row) =>
      CHECKPOINTS.indexOf(row.checkpoint),
    );
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(order).toHaveLength(DEFAULT_CHECKLIST.length);
  });
});

/** A reader of comma-separated values by the grammar of RFC 4180, written for this test alone. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  const cell = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/gy;
  for (let found = cell.exec(text); found; found = cell.exec(text)) {
    row.push(found[1] === undefined ? (found[2] ?? '') : found[1].replaceAll('""', '"'));
    if (found[3] === ',') continue;
    rows.push(row);
    row = [];
  }
  return rows;
}

describe('the file', () => {
  test('reads back as it was, whatever the words', () => {
    const words = fc
      .string({ unit: 'binary', maxLength: 20 })
      .filter((text) => !/^[=+\-@\t\r\n＝＋－＠]/.test(text));
    const cell = fc.oneof(words, fc.integer(), fc.constant(null));
    const table = fc
      .integer({ min: 1, max: 5 })
      .chain((width) =>
        fc.array(fc.array(cell, { minLength: width, maxLength: width }), { minLength: 1, maxLength: 6 }),
      );
    fc.assert(
      fc.property(table, (rows) => {
        expect(readCsv(toCsv(rows))).toEqual(
          rows.map((row) => row.map((one) => (one === null ? '' : String(one)))),
        );
      }),
    );
  });

  // OWASP, "CSV Injection": = + - @ tab and carriage return begin a formula.
  test.each(['=1+1', '+1', '-1', '@SUM(A1)', '\tx', '\r=1', '=HYPERLINK("https://a.example","b")'])(
    '%j is text to a table program',
    (text) => {
      expect(readCsv(toCsv([[text, 'x']]))).toEqual([[`'${text}`, 'x']]);
    },
  );

  test('numbers stay numbers, also below zero; what is no number is empty', () => {
    expect(toCsv([[-3.5, 0, null, Number.NaN]])).toBe('-3.5,0,,\r\n');
  });
});

describe('the clip that a swing is best held against', () => {
  const clip = (id: string, facts: Partial<ComparableClip> = {}): ComparableClip => ({
    id: id as ClipId,
    lessonNumber: 3,
    view: 'open_side',
    pinned: CHECKPOINTS,
    ...facts,
  });
  const now = clip('now');
  const partner = (...others: ComparableClip[]) =>
    nearestPartner(now, [now, ...others], 'foot_strike')?.id ?? null;

  test('is the one before from the same view with the checkpoint pinned', () => {
    expect(
      partner(
        clip('beside', { view: 'behind' }),
        clip('first', { lessonNumber: 1 }),
        clip('before', { lessonNumber: 2 }),
        clip('before-behind', { lessonNumber: 2, view: 'behind' }),
        clip('unpinned', { lessonNumber: 2, pinned: [] }),
        clip('after', { lessonNumber: 4 }),
      ),
    ).toBe('before');
  });

  test('is an earlier one from another view rather than none; a later one when there is no earlier', () => {
    expect(partner(clip('behind', { lessonNumber: 1, view: 'behind', pinned: [] }))).toBe('behind');
    expect(partner(clip('after', { lessonNumber: 4 }))).toBe('after');
  });

  test('is none for the only clip, and never the clip itself', () => {
    expect(partner()).toBeNull();
  });

  test('does not depend on the order', () => {
    const some = fc.record({
      lessonNumber: fc.integer({ min: 1, max: 6 }),
      view: fc.constantFrom('open_side' as const, 'behind' as const, null),
      pinned: fc.constantFrom([], CHECKPOINTS),
    });
    fc.assert(
      fc.property(fc.uniqueArray(some, { maxLength: 6, selector: (one) => JSON.stringify(one) }), (facts) => {
        const others = facts.map((one, index) => clip(String(index), one));
        const found = nearestPartner(now, others, 'load');
        const other = nearestPartner(now, [...others].reverse(), 'load');
        const worth = (one: ComparableClip | null) => one && [one.lessonNumber < 3, one.view === now.view];
        expect(worth(found)).toEqual(worth(other));
      }),
    );
  });
});
