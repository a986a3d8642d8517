import { writeAudit } from '@/lib/data/audit.write';
import { closeConcern as close } from '@/lib/data/concerns.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';

/** A lead closes a concern with what came of it. Once: what was written is not changed afterwards. */
export async function closeConcern(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  concern: { id: string; outcome: string },
): Promise<void> {
  await transaction(viewer, async (tx) => {
    if (!(await close(viewer, tx, concern, clock.now()))) {
      throw new CagepostError(
        'wrong-state',
        'Somebody has closed this concern already. What you wrote is still in the field.',
      );
    }
    await writeAudit(viewer, tx, { action: 'concern.closed', subject: `concern:${concern.id}` });
  });
}
