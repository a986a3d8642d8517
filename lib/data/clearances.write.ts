import { dateOfDay, type Day } from '@/lib/domain/people/age';
import type { ClearanceKind } from '@/lib/domain/people/clearances';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';

/** One check or training as a lead writes it down; the id is minted by the form. */
export interface NewClearance {
  id: string;
  personId: PersonId;
  kind: ClearanceKind;
  issuedOn: Day;
  expiresOn: Day;
}

/** Records a check or training of somebody of the staff. For leads. A repeat of the same id changes nothing. */
export async function recordClearance(viewer: Viewer, tx: Tx, one: NewClearance): Promise<void> {
  const place = { programId: viewer.programId, personId: one.personId };
  const isStaffHere =
    isLead(viewer) &&
    (await db(tx).membership.count({ where: { ...place, role: { in: ['coach', 'lead'] } } })) > 0;
  if (!isStaffHere) throw notFound('person');
  await db(tx).clearance.createMany({
    data: [
      {
        id: one.id,
        ...place,
        kind: one.kind,
        issuedOn: dateOfDay(one.issuedOn),
        expiresOn: dateOfDay(one.expiresOn),
        recordedById: viewer.personId,
      },
    ],
    skipDuplicates: true,
  });
}

/**
 * Ends the checks of one kind of a person at once. For leads. Returns how many were ended now; refused like an absent
 * one where that person never had one here.
 */
export async function revokeClearances(
  viewer: Viewer,
  tx: Tx,
  { personId, kind }: { personId: PersonId; kind: ClearanceKind },
  at: Date,
): Promise<number> {
  if (!isLead(viewer)) throw notFound('person');
  const where = { programId: viewer.programId, personId, kind };
  const { count } = await db(tx).clearance.updateMany({
    where: { ...where, revokedAt: null },
    data: { revokedAt: at },
  });
  if (count === 0 && (await db(tx).clearance.count({ where })) === 0) throw notFound('check');
  return count;
}
