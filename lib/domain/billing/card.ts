export type CardState = 'open' | 'paid' | 'expired' | 'failed';

/** What the payment service tells of one payment. Amounts in minor units of the project (ISO 4217). */
export type CardNews =
  | { kind: 'paid'; paymentId: string; sessionId: string; amountMinor: number; currency: string }
  | { kind: 'expired' | 'failed'; paymentId: string; sessionId: string };

/**
 * Where a card payment stands after a message. Messages come late, twice and in any order: money that came stays, so
 * nothing leaves `paid`, and a payment whose page had ended may still turn out to be paid.
 */
export const cardStateAfter = (state: CardState, news: CardNews['kind']): CardState =>
  state === 'paid' ? 'paid' : news;

/**
 * How a payment is shared out: as much as is still owed for the thing it was made for, and the rest to the payer's
 * good, to be given back. Money that came is never turned away.
 */
export const shareOut = (amountMinor: number, owedMinor: number): { paid: number; tooMuch: number } => {
  const paid = Math.min(amountMinor, Math.max(0, owedMinor));
  return { paid, tooMuch: amountMinor - paid };
};
