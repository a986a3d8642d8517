import type { ClearanceFacts } from '@/lib/domain/people/clearances';
import { isLead, isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, prisma, type Tx } from './client';

/** What was recorded of one person, newest end first. */
export type ClearancesOf = ReadonlyMap<PersonId, readonly ClearanceFacts[]>;

/** The checks of the program's staff by person: for leads all of them, for coaches their own. Empty for others. */
export async function listClearances(viewer: Viewer): Promise<ClearancesOf> {
  const found = new Map<PersonId, ClearanceFacts[]>();
  if (!isStaff(viewer)) return found;
  const rows = await prisma.clearance.findMany({
    where: { programId: viewer.programId, ...(isLead(viewer) ? {} : { personId: viewer.personId }) },
    select: { personId: true, kind: true, issuedOn: true, expiresOn: true, revokedAt: true },
    orderBy: { expiresOn: 'desc' },
  });
  for (const { personId, ...facts } of rows) {
    found.set(personId as PersonId, [...(found.get(personId as PersonId) ?? []), facts]);
  }
  return found;
}

/** What was recorded of somebody of the program's staff, for who hands them a lesson. Empty for others. */
export async function readClearances(viewer: Viewer, tx: Tx, personId: PersonId): Promise<ClearanceFacts[]> {
  if (!isStaff(viewer)) return [];
  return db(tx).clearance.findMany({
    where: { programId: viewer.programId, personId },
    select: { kind: true, issuedOn: true, expiresOn: true, revokedAt: true },
  });
}
