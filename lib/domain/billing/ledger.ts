export const LEDGER_KINDS = [
  'charge',
  'payment',
  'pack_sale',
  'pack_use',
  'waiver',
  'refund',
  'correction',
] as const;
export type LedgerKind = (typeof LEDGER_KINDS)[number];

/**
 * One fact about money. Amounts are positive whole minor units of one currency; only a correction may be negative.
 * A correction with `takesBackId` gives the lesson of that pack use back to its pack.
 */
export interface LedgerFact {
  kind: LedgerKind;
  amountMinor: number;
  id?: string;
  takesBackId?: string | null;
}

export const BILLING_STATUSES = [
  'no_charge',
  'due',
  'part_paid',
  'paid',
  'from_pack',
  'waived',
  'refunded',
] as const;
export type BillingStatus = (typeof BILLING_STATUSES)[number];

/** Where a lesson, a pack or a payer stands with money. `owedMinor` is what is still to be paid. */
export interface Account {
  chargedMinor: number;
  receivedMinor: number; // payments less refunds
  waivedMinor: number;
  refundedMinor: number;
  owedMinor: number;
  status: BillingStatus;
}

const sumOf = (facts: readonly LedgerFact[], kind: LedgerKind) =>
  facts.reduce((sum, fact) => (fact.kind === kind ? sum + fact.amountMinor : sum), 0);

/** What a pack pays for: its uses, less those that were given back. */
const packedOf = (facts: readonly LedgerFact[]) => {
  const back = new Set(facts.flatMap((fact) => (fact.takesBackId ? [fact.takesBackId] : [])));
  const live = facts.filter((fact) => fact.kind === 'pack_use' && !(fact.id && back.has(fact.id)));
  return sumOf(live, 'pack_use');
};

/**
 * Folds the entries of one lesson, of one pack, or of everything that one payer has. A refund gives money back and ends
 * the claim for that much, so it lowers what was received and leaves what is owed as it was.
 */
export function accountOf(facts: readonly LedgerFact[]): Account {
  const chargedMinor = sumOf(facts, 'charge') + sumOf(facts, 'pack_sale') + sumOf(facts, 'correction');
  const paid = sumOf(facts, 'payment');
  const refundedMinor = sumOf(facts, 'refund');
  const waivedMinor = sumOf(facts, 'waiver');
  const packed = packedOf(facts);
  const receivedMinor = paid - refundedMinor;
  const owedMinor = chargedMinor - paid - waivedMinor - packed;
  return { chargedMinor, receivedMinor, waivedMinor, refundedMinor, owedMinor, status: statusOf() };

  function statusOf(): BillingStatus {
    if (chargedMinor === 0) return refundedMinor > 0 ? 'refunded' : 'no_charge';
    if (refundedMinor > 0 && receivedMinor <= 0 && owedMinor <= 0) return 'refunded';
    if (owedMinor > 0) return receivedMinor > 0 || waivedMinor > 0 || packed > 0 ? 'part_paid' : 'due';
    if (packed > 0) return 'from_pack';
    return paid > 0 ? 'paid' : 'waived';
  }
}
