import { writeAudit } from '@/lib/data/audit.write';
import { confirmGuardian as confirm } from '@/lib/data/people.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** A lead confirms that somebody whom a minor named is their parent or guardian; only then do they count as one. */
export async function confirmGuardian(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  pair: { guardianId: PersonId; playerId: PersonId },
): Promise<void> {
  await transaction(viewer, async (tx) => {
    if (!(await confirm(viewer, tx, pair, clock.now()))) return;
    await writeAudit(viewer, tx, {
      action: 'guardian.confirmed',
      subject: `person:${pair.playerId}`,
      data: { guardianId: pair.guardianId },
    });
  });
}
