export const PAY_METHODS = ['transfer', 'cash', 'card', 'other'] as const;
/** How money came or went. */
export type PayMethod = (typeof PAY_METHODS)[number];

export const METHOD_WORD = {
  transfer: 'Bank transfer',
  cash: 'Cash',
  card: 'Card',
  other: 'Another way',
} as const satisfies Record<PayMethod, string>;
