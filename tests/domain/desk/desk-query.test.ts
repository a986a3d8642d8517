import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  cursorAddress,
  DESK_FILTERS,
  deskAddress,
  narrowedBy,
  parseCursor,
  parseDeskQuery,
  type DeskQuery,
} from '@/lib/domain/desk/desk-query';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';

const fromAddress = (address: string) => parseDeskQuery(Object.fromEntries(new URLSearchParams(address)));

const queries: fc.Arbitrary<DeskQuery> = fc.record({
  filter: fc.constantFrom(...DESK_FILTERS),
  coachId: fc.option(
    fc.uuid().map((id) => id as PersonId),
    { nil: undefined },
  ),
  state: fc.constantFrom('submitted' as const, 'in_review' as const, undefined),
  players: fc.constantFrom('minors' as const, 'adults' as const, undefined),
  isOverdue: fc.boolean(),
  isUnpaid: fc.boolean(),
  checklist: fc.option(fc.integer({ min: 1, max: 500 }), { nil: undefined }),
  find: fc.string({ maxLength: 60, unit: 'grapheme' }).map((text) => text.trim().slice(0, 60).trim()),
});

describe('the address of the desk', () => {
  test('says all of a query, and the same words for the same query', () => {
    fc.assert(
      fc.property(queries, (query) => {
        expect(fromAddress(deskAddress(query))).toEqual(query);
        expect(deskAddress(fromAddress(deskAddress(query)))).toBe(deskAddress(query));
      }),
    );
  });

  test('whatever is written by hand, what is not understood is left out', () => {
    const plain = { filter: 'mine', isOverdue: false, isUnpaid: false, find: '' };
    expect(fromAddress('show=theirs&coach=me&state=draft&players=all&overdue=1&checklist=-3')).toEqual(plain);
    expect(parseDeskQuery({ show: ['all', 'mine'], find: [' late ', 'x'] })).toMatchObject({
      filter: 'all',
      find: 'late',
    });
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.oneof(fc.string(), fc.array(fc.string()))), (address) => {
        expect(DESK_FILTERS).toContain(parseDeskQuery(address).filter);
      }),
    );
  });

  test('each thing that narrows can be taken away by itself', () => {
    fc.assert(
      fc.property(queries, (query) => {
        const narrowed = narrowedBy(query, []);
        for (const { without } of narrowed) expect(narrowedBy(without, [])).toHaveLength(narrowed.length - 1);
        expect(narrowed.length === 0).toBe(deskAddress(query) === deskAddress({ filter: query.filter }));
      }),
    );
  });
});

describe('the cursor', () => {
  test('there and back again', () => {
    fc.assert(
      fc.property(
        fc.date({ min: new Date(0), max: new Date('2100-01-01'), noInvalidDate: true }),
        fc.uuid(),
        (at, id) => {
          const cursor = { at, id: id as LessonId };
          expect(parseCursor(cursorAddress(cursor))).toEqual(cursor);
        },
      ),
    );
  });
  test.each([undefined, '', 'x', '2026-01-01T00:00:00.000Z', '2026-01-01_7', ['a', 'b']])(
    '%j is none',
    (text) => {
      expect(parseCursor(text)).toBeNull();
    },
  );
});
