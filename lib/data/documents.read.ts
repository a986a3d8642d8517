import { documentFactsSchema, type DocumentFacts, type DocumentKind } from '@/lib/domain/billing/documents';
import type { PersonRef } from '@/lib/domain/lessons/lesson';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { DocumentId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { olderThan, pageOf, parsePlace } from './keyset';
import { personRef, toPerson } from './select';
import { familyOf, payersVisibleTo } from './visibility';

/** A document as lists show it. */
export interface DocumentLine {
  id: DocumentId;
  kind: DocumentKind;
  number: number;
  at: Date;
  totalMinor: number;
  currency: string;
  payer: PersonRef;
}

/** One document with everything that stands on it, or null when it is absent or not the viewer's to see. */
export async function readDocument(
  viewer: Viewer,
  id: DocumentId,
): Promise<{ id: DocumentId; kind: DocumentKind; number: number; at: Date; facts: DocumentFacts } | null> {
  const row = await prisma.billingDocument.findFirst({
    where: { AND: [{ id }, payersVisibleTo(viewer)] },
    select: { id: true, kind: true, number: true, at: true, facts: true },
  });
  return row && { ...row, id: row.id as DocumentId, facts: documentFactsSchema.parse(row.facts) };
}

/**
 * Documents of the viewer's family, or for leads of the whole program, newest first; `after` is the `next` of the page
 * before.
 */
export async function listDocuments(
  viewer: Viewer,
  of: 'family' | 'program',
  { after = null, take = 30 }: { after?: string | null; take?: number } = {},
): Promise<{ rows: DocumentLine[]; next: string | null }> {
  const found = await prisma.billingDocument.findMany({
    where: {
      AND: [
        payersVisibleTo(viewer),
        of === 'family' ? familyOf(viewer) : {},
        olderThan('at', parsePlace(after)),
      ],
    },
    select: {
      id: true,
      kind: true,
      number: true,
      at: true,
      facts: true,
      payer: { select: personRef },
    },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    take: take + 1,
  });
  const { rows, next } = pageOf(found, take, (row) => row);
  return {
    rows: rows.map(({ facts, payer, ...row }) => {
      const { totalMinor, currency } = documentFactsSchema.parse(facts);
      return { ...row, id: row.id as DocumentId, totalMinor, currency, payer: toPerson(payer) };
    }),
    next,
  };
}
