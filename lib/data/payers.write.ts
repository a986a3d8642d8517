import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { ledgerFacts } from './select';

/**
 * Locks what a payer paid too much until the transaction ends, with its entries; null when there is nothing such, and
 * for everybody but leads.
 */
export async function lockPayer(viewer: Viewer, tx: Tx, payerId: PersonId) {
  if (!isLead(viewer)) return null;
  const alone = { programId: viewer.programId, payerId, lessonId: null, packId: null };
  const rest = await db(tx).balance.findFirst({ where: alone, select: { subject: true, currency: true } });
  if (!rest) return null;
  await db(tx).$queryRaw`SELECT 1 FROM "Balance" WHERE subject = ${rest.subject} FOR UPDATE`;
  const ledger = await db(tx).ledgerEntry.findMany({ where: alone, select: ledgerFacts });
  return { currency: rest.currency, ledger };
}
