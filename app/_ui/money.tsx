import { formatMoney } from '@/lib/domain/billing/money';
import type { BillingStatus } from '@/lib/domain/billing/ledger';
import { BILLING_WORD } from '@/lib/domain/lessons/words';

/** An amount of money in integer minor units. */
export const Money = ({ minor, currency }: { minor: number; currency: string }) => (
  <span className="num nowrap">{formatMoney(minor, currency)}</span>
);

type BillingProps = {
  status: BillingStatus;
  /** What is still owed, in minor units; shown where something is. */
  dueMinor?: number;
  currency?: string;
  /** For a pack: which of how many. */
  pack?: { used: number; of: number };
};

/** Where a lesson's money stands, in words: "$35.00 due", "part paid, $15.00 due", "from a pack, 1 of 3". */
export const BillingWord = ({ status, dueMinor = 0, currency, pack }: BillingProps) => {
  const owed = dueMinor > 0 && currency ? formatMoney(dueMinor, currency) : null;
  if (status === 'due') return <span className="num">{owed ? `${owed} due` : BILLING_WORD.due}</span>;
  const extra = status === 'part_paid' && owed ? `${owed} due` : pack && `${pack.used} of ${pack.of}`;
  return <span className="num">{extra ? `${BILLING_WORD[status]}, ${extra}` : BILLING_WORD[status]}</span>;
};
