import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  LEDGER_REFUSALS,
  MOST_MINOR,
  refusalOf,
  type LedgerRefusal,
} from '@/lib/domain/billing/entry-refusals';
import {
  accountOf,
  LEDGER_KINDS,
  type BillingStatus,
  type LedgerFact,
  type LedgerKind,
} from '@/lib/domain/billing/ledger';

/** `charge 100, payment -40` as entries. */
const entries = (text: string): LedgerFact[] =>
  text
    .split(',')
    .filter((part) => part.trim() !== '')
    .map((part) => {
      const [kind, amount] = part.trim().split(' ');
      return { kind: kind as LedgerKind, amountMinor: Number(amount) };
    });

describe('where a lesson stands with money', () => {
  test.each<[string, BillingStatus, owed: number, received: number]>([
    ['', 'no_charge', 0, 0],
    ['charge 100', 'due', 100, 0],
    ['charge 100, payment 40', 'part_paid', 60, 40],
    ['charge 100, payment 40, payment 60', 'paid', 0, 100],
    ['charge 100, waiver 100', 'waived', 0, 0],
    ['charge 100, waiver 30', 'part_paid', 70, 0],
    ['charge 100, waiver 30, payment 70', 'paid', 0, 70],
    ['charge 100, pack_use 100', 'from_pack', 0, 0],
    ['charge 100, pack_use 60', 'part_paid', 40, 0],
    ['charge 100, pack_use 60, payment 40', 'from_pack', 0, 40],
    ['charge 100, payment 100, refund 100', 'refunded', 0, 0],
    ['charge 100, payment 100, refund 30', 'paid', 0, 70],
    ['charge 100, payment 40, waiver 60, refund 40', 'refunded', 0, 0],
    // What was given back is no part payment of the rest.
    ['charge 100, payment 40, refund 40', 'due', 60, 0],
    ['charge 100, payment 40, refund 10', 'part_paid', 60, 30],
    ['charge 100, correction -100', 'no_charge', 0, 0],
    ['charge 100, correction -30', 'due', 70, 0],
    ['charge 100, correction 50, payment 100', 'part_paid', 50, 100],
    ['payment 50, refund 50', 'refunded', -50, 0],
    ['pack_sale 500', 'due', 500, 0],
    ['pack_sale 500, payment 500', 'paid', 0, 500],
  ])('%j: %s', (text, status, owedMinor, receivedMinor) => {
    expect(accountOf(entries(text))).toMatchObject({ status, owedMinor, receivedMinor });
  });

  test('tells each sum apart', () => {
    const text = 'charge 100, correction 20, payment 50, refund 10, waiver 15, pack_use 5, pack_sale 1000';
    expect(accountOf(entries(text))).toEqual({
      chargedMinor: 1120,
      receivedMinor: 40,
      waivedMinor: 15,
      refundedMinor: 10,
      owedMinor: 1050,
      status: 'part_paid',
    });
  });
});

describe('an entry that is refused', () => {
  test.each<[string, kind: LedgerKind, amount: number, reason: string, refusal: LedgerRefusal | null]>([
    ['charge 100', 'payment', 0.5, '', 'not-whole'],
    ['charge 100', 'payment', NaN, '', 'not-whole'],
    ['charge 100', 'payment', 2 ** 53, '', 'not-whole'],
    ['charge 100', 'correction', MOST_MINOR + 1, 'Typing', 'too-much'],
    ['charge 100', 'correction', -MOST_MINOR - 1, 'Typing', 'too-much'],
    ['charge 100', 'correction', MOST_MINOR, 'Typing', 'too-much'],
    ['charge 100', 'correction', MOST_MINOR - 100, 'Typing', null],
    ['charge 100', 'correction', MOST_MINOR - 99, 'Typing', 'too-much'],
    ['charge 100', 'payment', 0, '', 'not-positive'],
    ['charge 100', 'payment', -1, '', 'not-positive'],
    ['charge 100', 'refund', -1, 'Rain', 'not-positive'],
    ['charge 100', 'correction', 0, 'Typing', 'not-positive'],
    ['charge 100', 'correction', -1, 'Typing', null],
    ['charge 100', 'charge', 100, '', 'already-charged'],
    ['', 'charge', 100, '', null],
    ['payment 1', 'charge', 100, '', null],
    ['charge 100', 'waiver', 100, '', 'reason-missing'],
    ['charge 100', 'waiver', 100, ' \n', 'reason-missing'],
    ['charge 100', 'correction', 5, '', 'reason-missing'],
    ['charge 100, payment 100', 'refund', 5, '', 'reason-missing'],
    ['charge 100', 'payment', 100, '', null],
    ['charge 100', 'payment', 101, '', 'more-than-owed'],
    ['charge 100', 'waiver', 101, 'First lesson', 'more-than-owed'],
    ['charge 100', 'waiver', 100, 'First lesson', null],
    ['charge 100', 'pack_use', 101, '', 'more-than-owed'],
    ['charge 100', 'pack_use', 100, '', null],
    ['charge 100, payment 60', 'payment', 41, '', 'more-than-owed'],
    ['charge 100, payment 60', 'correction', -41, 'Typing', 'more-than-owed'],
    ['charge 100, payment 60', 'correction', -40, 'Typing', null],
    ['charge 100, payment 60', 'refund', 61, 'Rain', 'more-than-received'],
    ['charge 100, payment 60', 'refund', 60, 'Rain', null],
    ['charge 100, payment 60, refund 60', 'refund', 1, 'Rain', 'more-than-received'],
    ['', 'payment', 1, '', 'more-than-owed'],
    ['', 'pack_sale', 500, '', 'wrong-kind'],
    ['charge 100, pack_use 100', 'pack_use', 1, '', 'already-charged'],
  ])('after %j, %s %d (%j): %s', (before, kind, amountMinor, reason, refusal) => {
    expect(refusalOf(entries(before), { kind, amountMinor, reason })).toBe(refusal);
  });

  test('is told in a sentence that says nothing was recorded', () => {
    for (const words of Object.values(LEDGER_REFUSALS))
      expect(words).toMatch(/^[A-Z].+ Nothing was recorded\.$/);
  });
});

const anEntry = fc.record({
  kind: fc.constantFrom(...LEDGER_KINDS),
  amountMinor: fc.integer({ min: -200, max: 200 }),
  reason: fc.constantFrom('', 'Rain'),
});

test('no accepted sequence of entries brings what is owed, received or charged below zero', () => {
  fc.assert(
    fc.property(fc.array(anEntry, { maxLength: 30 }), (tries) => {
      const kept: LedgerFact[] = [];
      for (const one of tries) {
        if (refusalOf(kept, one) !== null) continue;
        kept.push(one);
        const account = accountOf(kept);
        expect(account.owedMinor).toBeGreaterThanOrEqual(0);
        expect(account.receivedMinor).toBeGreaterThanOrEqual(0);
        expect(account.chargedMinor).toBeGreaterThanOrEqual(0);
        const sum = (kind: LedgerKind) =>
          kept.filter((fact) => fact.kind === kind).reduce((total, fact) => total + fact.amountMinor, 0);
        expect(account.owedMinor).toBe(
          sum('charge') + sum('correction') - sum('payment') - sum('waiver') - sum('pack_use'),
        );
        // The word agrees with the sums.
        if (account.owedMinor > 0) expect(['due', 'part_paid']).toContain(account.status);
        else expect(['due', 'part_paid']).not.toContain(account.status);
      }
    }),
    { numRuns: 500 },
  );
});

test('the order of entries does not matter to where a lesson stands', () => {
  fc.assert(
    fc.property(fc.array(anEntry, { maxLength: 12 }), (facts) => {
      expect(accountOf([...facts].reverse())).toEqual(accountOf(facts));
    }),
  );
});
