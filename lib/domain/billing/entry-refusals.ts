import { accountOf, type LedgerFact } from './ledger';

/** What the entries belong to: a lesson, a pack, or the payer alone (a card payment that was too much). */
export type Subject = 'lesson' | 'pack' | 'payer';

export type LedgerRefusal =
  | 'not-whole'
  | 'too-much'
  | 'not-positive'
  | 'wrong-kind'
  | 'more-than-owed'
  | 'more-than-received'
  | 'already-charged'
  | 'not-from-pack'
  | 'reason-missing';

/** Why each entry is refused, for people. */
export const LEDGER_REFUSALS = {
  'not-whole': 'Write the amount with at most the decimals of the currency. Nothing was recorded.',
  'too-much': 'That amount is too large to be one entry. Nothing was recorded.',
  'not-positive': 'The amount must be more than zero. Nothing was recorded.',
  'wrong-kind': 'An entry of that kind does not belong here. Nothing was recorded.',
  'more-than-owed': 'That is more than is still owed. Nothing was recorded.',
  'more-than-received': 'That is more than was received. Nothing was recorded.',
  'already-charged': 'This already carries its charge. Nothing was recorded.',
  'not-from-pack': 'This lesson was not taken from a pack, or was given back already. Nothing was recorded.',
  'reason-missing': 'Write a reason: it stays in the ledger. Nothing was recorded.',
} as const satisfies Record<LedgerRefusal, string>;

/** The most that one entry or one sum can hold, either way (a 32-bit column): 21 million dollars. */
export const MOST_MINOR = 2_147_483_647;

const KINDS_OF = {
  lesson: ['charge', 'payment', 'pack_use', 'waiver', 'refund', 'correction'],
  pack: ['pack_sale', 'payment', 'waiver', 'refund', 'correction'],
  payer: ['payment', 'refund'],
} as const satisfies Record<Subject, readonly LedgerFact['kind'][]>;

/** Why one more entry may not be appended to those of the same lesson, pack or payer, or null when it may. */
export function refusalOf(
  facts: readonly LedgerFact[],
  next: LedgerFact & { reason: string },
  subject: Subject = 'lesson',
): LedgerRefusal | null {
  if (!Number.isSafeInteger(next.amountMinor)) return 'not-whole';
  if (Math.abs(next.amountMinor) > MOST_MINOR) return 'too-much';
  if (next.kind === 'correction' ? next.amountMinor === 0 : next.amountMinor <= 0) return 'not-positive';
  if (!(KINDS_OF[subject] as readonly string[]).includes(next.kind)) return 'wrong-kind';
  const account = accountOf(facts);
  const isCharge = next.kind === 'charge' || next.kind === 'pack_sale';
  if (isCharge && facts.some((fact) => fact.kind === next.kind)) return 'already-charged';
  if (next.kind === 'pack_use' && facts.some((fact) => fact.kind === 'pack_use')) return 'already-charged';
  if (['waiver', 'refund', 'correction'].includes(next.kind) && !next.reason.trim()) return 'reason-missing';
  if (next.takesBackId) return refusalOfGivingBack(facts, next);
  if (next.kind === 'correction' && account.chargedMinor + next.amountMinor > MOST_MINOR) return 'too-much';
  if (next.kind === 'refund') return next.amountMinor > account.receivedMinor ? 'more-than-received' : null;
  const lowers = next.kind === 'correction' ? -next.amountMinor : next.amountMinor;
  const raises = isCharge || subject === 'payer';
  return !raises && lowers > account.owedMinor ? 'more-than-owed' : null;
}

// Giving a pack lesson back ends the claim that the pack had paid: the same amount, once.
function refusalOfGivingBack(facts: readonly LedgerFact[], next: LedgerFact): LedgerRefusal | null {
  if (next.kind !== 'correction') return 'wrong-kind';
  const use = facts.find((fact) => fact.kind === 'pack_use' && fact.id === next.takesBackId);
  const isBack = facts.some((fact) => fact.takesBackId === next.takesBackId);
  return use && !isBack && next.amountMinor === -use.amountMinor ? null : 'not-from-pack';
}
