import { writeAudit } from '@/lib/data/audit.write';
import { recordClearance as record, type NewClearance } from '@/lib/data/clearances.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';

/** A lead records a check or a training of somebody of the staff; from then on it opens the lessons of minors. */
export async function recordClearance(viewer: Viewer, one: NewClearance): Promise<void> {
  if (one.expiresOn < one.issuedOn) {
    throw new CagepostError('invalid', 'It cannot end before it was issued. Look at the two days again.');
  }
  await transaction(viewer, async (tx) => {
    await record(viewer, tx, one);
    await writeAudit(viewer, tx, {
      action: 'clearance.recorded',
      subject: `person:${one.personId}`,
      data: { kind: one.kind, issuedOn: one.issuedOn, expiresOn: one.expiresOn },
    });
  });
}
