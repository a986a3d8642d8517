import { v7 as uuid } from 'uuid';
import type { DocumentFacts, DocumentKind } from '@/lib/domain/billing/documents';
import { db, type Tx } from './client';

/** A new document about one entry of the ledger. */
export interface NewDocument {
  entryId: string;
  kind: DocumentKind;
  facts: DocumentFacts;
  at: Date;
}

/**
 * Gives a document the next number of its program and kind. The counter's row stays locked until the transaction
 * ends: a second one waits, and a rollback gives the number back, so that there are no holes. Call it last.
 */
export async function numberDocument(
  tx: Tx,
  place: { programId: string; payerId: string; lessonId: string | null; packId: string | null },
  document: NewDocument,
): Promise<number> {
  const known = await db(tx).billingDocument.findUnique({
    where: { entryId: document.entryId },
    select: { number: true },
  });
  if (known) return known.number;
  const { programId } = place;
  const { kind } = document;
  const { last } = await db(tx).documentCounter.upsert({
    where: { programId_kind: { programId, kind } },
    create: { programId, kind, last: 1 },
    update: { last: { increment: 1 } },
    select: { last: true },
  });
  await db(tx).billingDocument.create({ data: { ...place, ...document, id: uuid(), number: last } });
  return last;
}
