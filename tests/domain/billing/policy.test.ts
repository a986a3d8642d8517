import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { LedgerFact } from '@/lib/domain/billing/ledger';
import {
  cancellationOf,
  cancellationWords,
  dueAfter,
  moneyPolicySchema,
  PLAIN_POLICY,
  toPolicy,
} from '@/lib/domain/billing/policy';
import type { LessonState } from '@/lib/domain/lessons/state';

const charge: LedgerFact = { id: 'c', kind: 'charge', amountMinor: 1000 };
const paid = (amountMinor: number): LedgerFact => ({ id: `p${amountMinor}`, kind: 'payment', amountMinor });
const use: LedgerFact = { id: 'u', kind: 'pack_use', amountMinor: 1000 };
const back: LedgerFact = { id: 'b', kind: 'correction', amountMinor: -1000, takesBackId: 'u' };

describe('what withdrawing a lesson does to its money', () => {
  test.each<
    [string, LedgerFact[], LessonState, kept: number, waive: number, giveBack: number, use: string | null]
  >([
    ['before a coach took it: all is waived', [charge], 'submitted', 100, 1000, 0, null],
    ['before, paid: full refund', [charge, paid(1000)], 'submitted', 100, 0, 1000, null],
    ['before, part paid: both', [charge, paid(400)], 'submitted', 100, 600, 400, null],
    ['before, from a pack: given back', [charge, use], 'submitted', 100, 0, 0, 'u'],
    ['before, given back already: nothing', [charge, use, back], 'submitted', 100, 0, 0, null],
    ['taken, the program keeps all: nothing', [charge], 'in_review', 100, 0, 0, null],
    ['taken, keeps all, paid: nothing', [charge, paid(1000)], 'in_review', 100, 0, 0, null],
    ['taken, keeps half', [charge], 'in_review', 50, 500, 0, null],
    ['taken, keeps half, paid', [charge, paid(1000)], 'in_review', 50, 0, 500, null],
    ['taken, keeps half, a part paid that it keeps', [charge, paid(300)], 'in_review', 50, 500, 0, null],
    ['taken, keeps half, more paid than it keeps', [charge, paid(700)], 'in_review', 50, 300, 200, null],
    [
      'taken, keeps a third, rounded to the payer',
      [{ ...charge, amountMinor: 999 }],
      'in_review',
      33,
      670,
      0,
      null,
    ],
    ['taken, keeps nothing, from a pack', [charge, use], 'in_review', 0, 0, 0, 'u'],
    ['taken, keeps a little, from a pack', [charge, use], 'in_review', 1, 0, 0, null],
    ['never sent', [], 'draft', 0, 0, 0, null],
    ['returned: nothing changes', [charge, paid(400)], 'returned', 0, 0, 0, null],
    ['closed', [charge], 'closed', 0, 0, 0, null],
    ['withdrawn already', [charge], 'withdrawn', 0, 0, 0, null],
    ['free', [], 'submitted', 100, 0, 0, null],
  ])('%s', (_what, facts, state, keptPercent, waiveMinor, giveBackMinor, packUseId) => {
    expect(cancellationOf(facts, state, { keptPercent })).toEqual({ waiveMinor, giveBackMinor, packUseId });
  });

  test('a pack use without an id cannot be given back', () => {
    const { packUseId } = cancellationOf([charge, { kind: 'pack_use', amountMinor: 1000 }], 'submitted', {
      keptPercent: 100,
    });
    expect(packUseId).toBeNull();
  });

  test('afterwards the payer has paid or owes exactly the share that is kept, or what was paid of it', () => {
    fc.assert(
      fc.property(
        fc.nat(5000),
        fc.nat(5000),
        fc.integer({ min: 0, max: 100 }),
        (amountMinor, part, keptPercent) => {
          const received = Math.min(part, amountMinor);
          const facts: LedgerFact[] = [{ ...charge, amountMinor }, paid(received)];
          const { waiveMinor, giveBackMinor } = cancellationOf(facts, 'in_review', { keptPercent });
          const stillOwed = amountMinor - received - waiveMinor;
          expect(received - giveBackMinor + stillOwed).toBe(Math.floor((amountMinor * keptPercent) / 100));
          expect(Math.min(waiveMinor, giveBackMinor, stillOwed)).toBeGreaterThanOrEqual(0);
        },
      ),
    );
  });
});

test('a charge is due so many days later', () => {
  const at = new Date('2026-03-01T12:00:00Z');
  expect(dueAfter(at, { dueDays: 14 })).toEqual(new Date('2026-03-15T12:00:00Z'));
  expect(dueAfter(at, { dueDays: 0 })).toEqual(at);
});

describe('a stored policy', () => {
  test('is read as it was stored', () => {
    const policy = { version: 1, dueDays: 7, keptPercent: 50, terms: 'Two days’ notice.' };
    expect(toPolicy(policy)).toEqual(policy);
  });

  test.each([null, undefined, {}, { version: 2, dueDays: 7, keptPercent: 50, terms: '' }, 'policy'])(
    '%j counts as the plain one',
    (stored) => {
      expect(toPolicy(stored)).toEqual({ version: 1, dueDays: 14, keptPercent: 100, terms: '' });
      expect(PLAIN_POLICY).toEqual(toPolicy(stored));
    },
  );

  test.each([
    ['dueDays', -1],
    ['dueDays', 366],
    ['dueDays', 1.5],
    ['keptPercent', -1],
    ['keptPercent', 101],
    ['keptPercent', 0.5],
    ['terms', 'x'.repeat(2001)],
  ])('%s %s is refused', (field, value) => {
    expect(moneyPolicySchema.safeParse({ ...PLAIN_POLICY, [field]: value }).success).toBe(false);
  });

  test.each([
    ['dueDays', 0],
    ['dueDays', 365],
    ['keptPercent', 0],
    ['keptPercent', 100],
    ['terms', 'x'.repeat(2000)],
  ])('%s %s is taken', (field, value) => {
    expect(moneyPolicySchema.safeParse({ ...PLAIN_POLICY, [field]: value }).success).toBe(true);
  });
});

test('the rule is told in words', () => {
  const before = 'Withdrawn before a coach takes it, a lesson costs nothing: what was paid is given back.';
  expect(cancellationWords({ keptPercent: 100 })).toBe(`${before} After that the price stays owed.`);
  expect(cancellationWords({ keptPercent: 0 })).toBe(`${before} The same holds until it is returned.`);
  expect(cancellationWords({ keptPercent: 50 })).toBe(`${before} After that 50 % of the price stays owed.`);
});
