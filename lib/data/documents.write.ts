import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import { db, type Tx } from './client';
import { numberDocument, type NewDocument } from './number-document';
import { payersVisibleTo } from './visibility';

/**
 * Makes the document about an entry, once, with the next number of its kind, which it answers. By whoever made the
 * entry, the payer's family, or staff.
 */
export async function createDocument(viewer: Viewer, tx: Tx, document: NewDocument): Promise<number> {
  const { programId } = viewer;
  const entry = await db(tx).ledgerEntry.findFirst({
    where: {
      id: document.entryId,
      programId,
      ...(isStaff(viewer) ? {} : { OR: [{ actorId: viewer.personId }, payersVisibleTo(viewer)] }),
    },
    select: { payerId: true, lessonId: true, packId: true },
  });
  if (!entry) throw notFound('ledger entry');
  return numberDocument(tx, { programId, ...entry }, document);
}
