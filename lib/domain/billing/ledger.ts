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

/** One fact about money. Amounts are positive whole minor units of one currency; only a correction may be negative. */
export interface LedgerFact {
  kind: LedgerKind;
  amountMinor: number;
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

/** Where a lesson stands with money. `owedMinor` is what is still to be paid, never below zero by way of the commands. */
export interface LessonAccount {
  chargedMinor: number;
  receivedMinor: number; // payments less refunds
  waivedMinor: number;
  refundedMinor: number;
  owedMinor: number;
  status: BillingStatus;
}

const sumOf = (facts: readonly LedgerFact[], kind: LedgerKind) =>
  facts.reduce((sum, fact) => (fact.kind === kind ? sum + fact.amountMinor : sum), 0);

/**
 * Folds the entries of one lesson. A refund gives money back and ends the claim for that much, so it lowers what was
 * received and leaves what is owed as it was.
 */
export function accountOf(facts: readonly LedgerFact[]): LessonAccount {
  const chargedMinor = sumOf(facts, 'charge') + sumOf(facts, 'correction');
  const paid = sumOf(facts, 'payment');
  const refundedMinor = sumOf(facts, 'refund');
  const waivedMinor = sumOf(facts, 'waiver');
  const packed = sumOf(facts, 'pack_use');
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

export type LedgerRefusal =
  | 'not-whole'
  | 'too-much'
  | 'not-positive'
  | 'more-than-owed'
  | 'more-than-received'
  | 'already-charged'
  | 'reason-missing';

/** Why each entry is refused, for people. */
export const LEDGER_REFUSALS = {
  'not-whole': 'Write the amount with at most the decimals of the currency. Nothing was recorded.',
  'too-much': 'That amount is too large to be one entry. Nothing was recorded.',
  'not-positive': 'The amount must be more than zero. Nothing was recorded.',
  'more-than-owed': 'That is more than is still owed for this lesson. Nothing was recorded.',
  'more-than-received': 'That is more than was received for this lesson. Nothing was recorded.',
  'already-charged': 'This lesson already carries its charge. Nothing was recorded.',
  'reason-missing': 'Write a reason: it stays in the ledger. Nothing was recorded.',
} as const satisfies Record<LedgerRefusal, string>;

/** The most that one entry can hold, either way (a 32-bit column): 21 million dollars. */
export const MOST_MINOR = 2_147_483_647;

/** Why one more entry may not be appended to these, or null when it may. */
export function refusalOf(
  facts: readonly LedgerFact[],
  next: LedgerFact & { reason: string },
): LedgerRefusal | null {
  if (!Number.isSafeInteger(next.amountMinor)) return 'not-whole';
  if (Math.abs(next.amountMinor) > MOST_MINOR) return 'too-much';
  if (next.kind === 'correction' ? next.amountMinor === 0 : next.amountMinor <= 0) return 'not-positive';
  const account = accountOf(facts);
  if (next.kind === 'charge' && facts.some((fact) => fact.kind === 'charge')) return 'already-charged';
  if (['waiver', 'refund', 'correction'].includes(next.kind) && !next.reason.trim()) return 'reason-missing';
  const lowers = next.kind === 'payment' || next.kind === 'waiver' || next.kind === 'pack_use';
  if (lowers && next.amountMinor > account.owedMinor) return 'more-than-owed';
  if (next.kind === 'correction' && -next.amountMinor > account.owedMinor) return 'more-than-owed';
  if (next.kind === 'refund' && next.amountMinor > account.receivedMinor) return 'more-than-received';
  return null;
}
