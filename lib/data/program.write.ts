import type { MoneyPolicy } from '@/lib/domain/billing/policy';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import { db, type Tx } from './client';

/** Changes how the viewer's program works from now on; lessons already sent keep what was copied into them. Leads only. */
export async function saveProgram(
  viewer: Viewer,
  tx: Tx,
  facts: { name: string; promiseHours: number; howToPay: string },
): Promise<void> {
  if (!isLead(viewer)) throw notFound('program');
  await db(tx).program.update({ where: { id: viewer.programId }, data: facts });
}

/** Sets the zone (IANA name) in which the viewer's program lives. Leads only. */
export async function saveProgramZone(viewer: Viewer, tx: Tx, timeZone: string): Promise<void> {
  if (!isLead(viewer)) throw notFound('program');
  await db(tx).program.update({ where: { id: viewer.programId }, data: { timeZone } });
}

/** Sets what is agreed about money from now on; what was bought before keeps its copy. Leads only. */
export async function saveMoneyPolicy(viewer: Viewer, tx: Tx, policy: MoneyPolicy): Promise<void> {
  if (!isLead(viewer)) throw notFound('program');
  const { dueDays, keptPercent, terms: moneyTerms } = policy;
  await db(tx).program.update({
    where: { id: viewer.programId },
    data: { dueDays, keptPercent, moneyTerms },
  });
}
