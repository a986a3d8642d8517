import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { VERDICTS, type Verdict } from '@/lib/domain/checkpoints/checkpoint';
import { furthestFromSet, verdictChanges } from '@/lib/domain/threads/progress';
import { replySchema } from '@/lib/domain/threads/reply';
import { aSheet, buildSheet } from '../review/build-sheet';

const judged = (verdicts: Record<string, Verdict | null>) =>
  buildSheet({
    answers: Object.entries(verdicts).map(([itemId, verdict]) => ({
      itemId,
      verdict,
      note: '',
      clipId: null,
      frame: null,
    })),
  });

describe('verdicts that changed from one lesson to the next', () => {
  test('only those judged in both, and differently, in the later sheet’s order', () => {
    const before = judged({ head: 'off', hands: 'close', belt: 'set', foot: 'off', knee: null });
    const after = judged({
      foot: 'close',
      head: 'set',
      hands: 'close',
      knee: 'off',
      finish: 'set',
      belt: null,
    });
    expect(verdictChanges(before, after)).toEqual([
      { itemId: 'foot', before: 'off', after: 'close' },
      { itemId: 'head', before: 'off', after: 'set' },
    ]);
  });

  test('a sheet beside itself shows none; swapped sheets show the same items the other way round', () => {
    fc.assert(
      fc.property(aSheet(), aSheet(), (one, two) => {
        expect(verdictChanges(one, one)).toEqual([]);
        const key = (change: { itemId: string }) => change.itemId;
        const there = verdictChanges(one, two).sort((a, b) => key(a).localeCompare(key(b)));
        const back = verdictChanges(two, one).sort((a, b) => key(a).localeCompare(key(b)));
        expect(back).toEqual(there.map((c) => ({ itemId: c.itemId, before: c.after, after: c.before })));
      }),
    );
  });
});

describe('what a checkpoint shows for all its items', () => {
  test.each<[(Verdict | null)[], Verdict | null]>([
    [[], null],
    [[null, null], null],
    [['not_seen', 'not_seen'], 'not_seen'],
    [['not_seen', null], 'not_seen'],
    [['not_seen', 'set'], 'set'],
    [['set', 'close', null], 'close'],
    [['close', 'off', 'set', 'not_seen'], 'off'],
  ])('%j is %s', (verdicts, shown) => {
    expect(furthestFromSet(verdicts)).toBe(shown);
  });

  test('is one of them; “not seen” only when nothing else was; the order plays no part', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(null, ...VERDICTS), { maxLength: 8 }), (verdicts) => {
        const shown = furthestFromSet(verdicts);
        const said = verdicts.filter((one) => one !== null);
        expect(shown === null ? said.length === 0 : said.includes(shown)).toBe(true);
        if (shown === 'not_seen') expect(new Set(said)).toEqual(new Set(['not_seen']));
        expect(furthestFromSet([...verdicts].reverse())).toBe(shown);
      }),
    );
  });
});

describe('a reply as it is sent', () => {
  const id = '018f5e2a-1000-7000-8000-000000000000';
  const reply = { id, lessonId: id, body: ' Better off the tee. ', at: null };

  test('is trimmed; a frame may hang on it', () => {
    expect(replySchema.parse(reply).body).toBe('Better off the tee.');
    expect(replySchema.parse({ ...reply, at: { clipId: id, frame: 0 } }).at).toEqual({
      clipId: id,
      frame: 0,
    });
  });

  test.each([
    ['nothing but blanks', { body: ' \n' }],
    ['2,001 letters', { body: 'x'.repeat(2001) }],
    ['a frame before the first', { at: { clipId: id, frame: -1 } }],
    ['half a frame', { at: { clipId: id, frame: 1.5 } }],
    ['an id that is none', { id: '7' }],
  ])('%s is refused', (_what, over) => {
    expect(replySchema.safeParse({ ...reply, ...over }).success).toBe(false);
  });
});
