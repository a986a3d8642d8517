import type { LedgerKind } from './ledger';

/** What each entry is called where people read the ledger. */
export const LEDGER_WORD = {
  charge: 'Charge',
  payment: 'Payment',
  pack_sale: 'Pack sold',
  pack_use: 'From a pack',
  waiver: 'Waived',
  refund: 'Refund',
  correction: 'Correction',
} as const satisfies Record<LedgerKind, string>;
