import type { LedgerKind } from './ledger';
import { METHOD_WORD, type PayMethod } from './methods';
import { exponentOf } from './money';
import { LEDGER_WORD } from './words';

/** One entry of the ledger as a table of the program's books has it. */
export interface BookEntry {
  id: string;
  at: Date;
  kind: LedgerKind;
  amountMinor: number;
  currency: string;
  method: PayMethod | null;
  reason: string;
  payer: string;
  lessonNumber: number | null;
  pack: string | null;
  by: string;
}

/** The names of the columns, in the order of `bookLine`. */
export const bookHead = [
  ...['When (UTC)', 'What', 'Amount', 'Currency', 'How', 'Payer'],
  ...['Lesson', 'Pack', 'Why', 'By', 'Entry'],
] as const;

/** One row. The amount is a number in the currency's own unit with its decimals, as table programs add it up. */
export const bookLine = (entry: BookEntry): (string | number | null)[] => [
  entry.at.toISOString(),
  LEDGER_WORD[entry.kind],
  entry.amountMinor / 10 ** exponentOf(entry.currency),
  entry.currency,
  entry.method && METHOD_WORD[entry.method],
  entry.payer,
  entry.lessonNumber,
  entry.pack,
  entry.reason,
  entry.by,
  entry.id,
];
