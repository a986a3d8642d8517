import { describe, expect, test } from 'vitest';
import { MOST_MINOR, refusalOf, type LedgerRefusal, type Subject } from '@/lib/domain/billing/entry-refusals';
import { accountOf, type LedgerFact } from '@/lib/domain/billing/ledger';

const charge: LedgerFact = { id: 'c', kind: 'charge', amountMinor: 100 };
const use: LedgerFact = { id: 'u', kind: 'pack_use', amountMinor: 100 };
const back: LedgerFact = { id: 'b', kind: 'correction', amountMinor: -100, takesBackId: 'u' };
const sale: LedgerFact = { id: 's', kind: 'pack_sale', amountMinor: 400 };
const payment = (amountMinor: number): LedgerFact => ({ id: 'p', kind: 'payment', amountMinor });

describe('a lesson given back to its pack', () => {
  test('costs nothing any more', () => {
    expect(accountOf([charge, use, back])).toMatchObject({
      owedMinor: 0,
      chargedMinor: 0,
      status: 'no_charge',
    });
    expect(accountOf([charge, use])).toMatchObject({ owedMinor: 0, status: 'from_pack' });
  });

  test('only the use that is named is taken back', () => {
    const other: LedgerFact = { ...back, takesBackId: 'another' };
    expect(accountOf([{ ...charge, amountMinor: 300 }, use, other])).toMatchObject({ owedMinor: 100 });
    expect(accountOf([charge, { kind: 'pack_use', amountMinor: 100 }, back])).toMatchObject({
      owedMinor: -100,
    });
  });

  test.each<[string, LedgerFact[], Partial<LedgerFact>, LedgerRefusal | null]>([
    ['once', [charge, use], {}, null],
    ['twice', [charge, use, back], {}, 'not-from-pack'],
    ['of another entry', [charge, use], { takesBackId: 'c' }, 'not-from-pack'],
    ['of none', [charge], {}, 'not-from-pack'],
    ['by another amount', [charge, use], { amountMinor: -99 }, 'not-from-pack'],
    ['by a refund', [charge, use], { kind: 'refund', amountMinor: 100 }, 'wrong-kind'],
  ])('%s', (_what, facts, over, refusal) => {
    expect(refusalOf(facts, { ...back, id: 'n', reason: 'Rain', ...over })).toBe(refusal);
  });

  test('not without a reason', () => {
    expect(refusalOf([charge, use], { ...back, reason: ' ' })).toBe('reason-missing');
  });
});

describe('what belongs where', () => {
  test.each<[Subject, LedgerFact[], LedgerFact, LedgerRefusal | null]>([
    ['pack', [], sale, null],
    ['pack', [sale], { ...sale, id: 't' }, 'already-charged'],
    ['pack', [sale], payment(400), null],
    ['pack', [sale], payment(401), 'more-than-owed'],
    ['pack', [sale], charge, 'wrong-kind'],
    ['pack', [sale], use, 'wrong-kind'],
    ['pack', [sale], { kind: 'waiver', amountMinor: 400 }, null],
    ['pack', [sale, payment(400)], { kind: 'refund', amountMinor: 400 }, null],
    ['pack', [sale, payment(400)], { kind: 'refund', amountMinor: 401 }, 'more-than-received'],
    ['pack', [sale], { kind: 'correction', amountMinor: -400 }, null],
    ['pack', [sale], { kind: 'correction', amountMinor: -401 }, 'more-than-owed'],
    ['payer', [], payment(50), null],
    ['payer', [payment(50)], { kind: 'refund', amountMinor: 50 }, null],
    ['payer', [payment(50)], { kind: 'refund', amountMinor: 51 }, 'more-than-received'],
    ['payer', [], charge, 'wrong-kind'],
    ['payer', [payment(50)], { kind: 'correction', amountMinor: 1 }, 'wrong-kind'],
    ['payer', [payment(50)], { kind: 'waiver', amountMinor: 1 }, 'wrong-kind'],
    ['lesson', [], sale, 'wrong-kind'],
    ['lesson', [charge], use, null],
    ['lesson', [charge, use], { ...use, id: 'v' }, 'already-charged'],
    ['lesson', [charge, payment(100)], charge, 'already-charged'],
    ['lesson', [], { ...charge, amountMinor: MOST_MINOR }, null],
  ])('%s after %j: %j', (subject, facts, next, refusal) => {
    expect(refusalOf(facts, { ...next, reason: 'As agreed' }, subject)).toBe(refusal);
  });
});
