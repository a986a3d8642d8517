import { writeAudit } from '@/lib/data/audit.write';
import { placeHold as place } from '@/lib/data/holds.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import { holdReasonSchema } from '@/lib/domain/privacy/hold';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** A lead places a legal hold on a player: from now on nothing of them is deleted or erased until it is ended. */
export async function placeHold(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  hold: { id: string; playerId: PersonId; reason: string },
): Promise<void> {
  const reason = holdReasonSchema.safeParse(hold.reason);
  if (!reason.success)
    throw new CagepostError('invalid', `${reason.error.issues[0]?.message ?? ''} No hold was placed.`);
  await transaction(viewer, async (tx) => {
    if (!(await place(viewer, tx, { ...hold, reason: reason.data }, clock.now()))) return;
    await writeAudit(viewer, tx, {
      action: 'hold.placed',
      subject: `person:${hold.playerId}`,
      data: { hold: hold.id },
    });
  });
}
