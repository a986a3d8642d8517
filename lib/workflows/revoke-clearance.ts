import { writeAudit } from '@/lib/data/audit.write';
import { revokeClearances } from '@/lib/data/clearances.write';
import { transaction } from '@/lib/data/transaction';
import type { ClearanceKind } from '@/lib/domain/people/clearances';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** A lead ends somebody's check or training before its day; the lessons of minors are closed to them at once. */
export async function revokeClearance(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  which: { personId: PersonId; kind: ClearanceKind },
): Promise<void> {
  await transaction(viewer, async (tx) => {
    if ((await revokeClearances(viewer, tx, which, clock.now())) === 0) return;
    await writeAudit(viewer, tx, {
      action: 'clearance.revoked',
      subject: `person:${which.personId}`,
      data: { kind: which.kind },
    });
  });
}
