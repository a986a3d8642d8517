import * as z from 'zod';

export const DOCUMENT_KINDS = ['invoice', 'receipt', 'credit_note'] as const;
export type DocumentKind = (typeof DOCUMENT_KINDS)[number];

const DOCUMENT_WORD = {
  invoice: 'Invoice',
  receipt: 'Receipt',
  credit_note: 'Credit note',
} as const satisfies Record<DocumentKind, string>;

/** "Receipt 12": how people call a document. */
export const documentName = (kind: DocumentKind, number: number): string =>
  `${DOCUMENT_WORD[kind]} ${number}`;

/** The name of its file: "receipt-12.pdf". */
export const documentFile = (kind: DocumentKind, number: number): string =>
  `${DOCUMENT_WORD[kind].toLowerCase().replace(' ', '-')}-${number}.pdf`;

/**
 * Everything that stands on a document, frozen when it was made. Amounts in minor units of `currency`, instants ISO
 * 8601 in UTC. No player is named in it, so that it can be kept as long as the law on books asks.
 */
export const documentFactsSchema = z.object({
  version: z.literal(1),
  programName: z.string(),
  timeZone: z.string(),
  payerName: z.string(),
  lines: z.array(z.object({ label: z.string(), amountMinor: z.int() })).min(1),
  totalMinor: z.int(),
  currency: z.string().length(3),
  /** How it was paid or given back; null on an invoice. */
  method: z.string().nullable(),
  /** Why, on a credit note. */
  reason: z.string(),
  /** Of an invoice. */
  dueAt: z.iso.datetime().nullable(),
  /** Still owed for the same thing after this document. */
  stillOwedMinor: z.int(),
  howToPay: z.string(),
  terms: z.string(),
});
export type DocumentFacts = z.infer<typeof documentFactsSchema>;
