import { describe, expect, test } from 'vitest';
import { bookHead, bookLine } from '@/lib/domain/billing/book';
import { cardStateAfter, shareOut } from '@/lib/domain/billing/card';
import { documentFactsSchema, documentFile, documentName } from '@/lib/domain/billing/documents';
import { monthSpan } from '@/lib/domain/billing/months';
import { toCsv } from '@/lib/domain/progress/csv';
import { aFacts } from './document-facts';

describe('months of a calendar', () => {
  test('begin and end at midnight of their zone, also where the clocks change between', () => {
    expect(monthSpan('2026-03', '2026-03', 'America/New_York')).toEqual({
      from: new Date('2026-03-01T05:00:00Z'),
      to: new Date('2026-04-01T04:00:00Z'),
    });
    expect(monthSpan('2025-12', '2026-01', 'UTC')).toEqual({
      from: new Date('2025-12-01T00:00:00Z'),
      to: new Date('2026-02-01T00:00:00Z'),
    });
  });

  test.each([
    ['2026-02', '2026-01'],
    ['2026-13', '2027-01'],
    ['2026-00', '2026-01'],
    ['2026-1', '2026-02'],
    ['', '2026-01'],
    ['2026-01', ''],
    ['x2026-01', '2026-01'],
    ['2026-01', '2026-01-31'],
  ])('%j to %j are none', (first, last) => {
    expect(monthSpan(first, last, 'UTC')).toBeNull();
  });
});

describe('a row of the books', () => {
  const entry = {
    id: 'entry-1',
    at: new Date('2026-06-01T12:00:00Z'),
    kind: 'refund' as const,
    amountMinor: 1250,
    currency: 'USD',
    method: 'transfer' as const,
    reason: '=HYPERLINK("http://example.org")',
    payer: '@Robin, "the" Sample',
    lessonNumber: 3,
    pack: null,
    by: 'Lena Lead',
  };

  test('has a cell for each column, in the currency’s own unit', () => {
    expect(bookLine(entry)).toHaveLength(bookHead.length);
    expect(bookLine(entry).slice(0, 5)).toEqual([
      '2026-06-01T12:00:00.000Z',
      'Refund',
      12.5,
      'USD',
      'Bank transfer',
    ]);
    expect(bookLine({ ...entry, currency: 'JPY', method: null }).slice(2, 5)).toEqual([1250, 'JPY', null]);
    expect(bookLine({ ...entry, kind: 'correction', amountMinor: -300 })[2]).toBe(-3);
  });

  // OWASP, "CSV Injection": cells that begin with = + - @ (or tab, return) run as formulas in table programs.
  test('runs no formula in a table program, and amounts below zero stay numbers', () => {
    const csv = toCsv([bookHead, bookLine({ ...entry, kind: 'correction', amountMinor: -300 })]);
    expect(csv).toContain(`,"'=HYPERLINK(""http://example.org"")",`);
    expect(csv).toContain(`,"'@Robin, ""the"" Sample",`);
    expect(csv).toContain(',-3,USD,');
  });
});

describe('a card payment', () => {
  test.each([
    ['open', 'paid', 'paid'],
    ['open', 'expired', 'expired'],
    ['open', 'failed', 'failed'],
    ['expired', 'paid', 'paid'],
    ['failed', 'paid', 'paid'],
    ['paid', 'expired', 'paid'],
    ['paid', 'failed', 'paid'],
    ['paid', 'paid', 'paid'],
  ] as const)('%s, then %s: %s', (state, news, after) => {
    expect(cardStateAfter(state, news)).toBe(after);
  });

  test.each([
    [100, 100, 100, 0],
    [100, 60, 60, 40],
    [100, 0, 0, 100],
    [100, -20, 0, 100],
    [60, 100, 60, 0],
  ])('of %i for %i owed, %i pays and %i is too much', (amount, owed, paid, tooMuch) => {
    expect(shareOut(amount, owed)).toEqual({ paid, tooMuch });
  });
});

describe('a document', () => {
  test.each([
    ['invoice', 'Invoice 7', 'invoice-7.pdf'],
    ['receipt', 'Receipt 7', 'receipt-7.pdf'],
    ['credit_note', 'Credit note 7', 'credit-note-7.pdf'],
  ] as const)('%s is called', (kind, name, file) => {
    expect(documentName(kind, 7)).toBe(name);
    expect(documentFile(kind, 7)).toBe(file);
  });

  test('is read back as it was frozen, and refused when it is not whole', () => {
    expect(documentFactsSchema.parse(aFacts())).toEqual(aFacts());
    for (const over of [
      { lines: [] },
      { version: 2 },
      { currency: 'US' },
      { totalMinor: 0.5 },
      { dueAt: 'soon' },
    ]) {
      expect(documentFactsSchema.safeParse({ ...aFacts(), ...over }).success).toBe(false);
    }
  });
});
