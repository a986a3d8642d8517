import { writeAudit } from '@/lib/data/audit.write';
import { endHold as end } from '@/lib/data/holds.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { Ports } from './ports';

/** A lead ends a legal hold: deadlines hold again from the coming night on, and an erasure that waited is done. */
export async function endHold(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  holdId: string,
): Promise<void> {
  await transaction(viewer, async (tx) => {
    const playerId = await end(viewer, tx, holdId, clock.now());
    if (playerId === null) return;
    await writeAudit(viewer, tx, {
      action: 'hold.ended',
      subject: `person:${playerId}`,
      data: { hold: holdId },
    });
  });
}
