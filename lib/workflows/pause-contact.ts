import { writeAudit } from '@/lib/data/audit.write';
import { setContactPause } from '@/lib/data/people.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** A guardian stops, or allows again, that adults of the program write to their child. It holds from the next write on. */
export async function pauseContact(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  { playerId, isPaused }: { playerId: PersonId; isPaused: boolean },
): Promise<void> {
  await transaction(viewer, async (tx) => {
    await setContactPause(viewer, tx, playerId, isPaused ? clock.now() : null);
    await writeAudit(viewer, tx, {
      action: isPaused ? 'contact.paused' : 'contact.resumed',
      subject: `person:${playerId}`,
    });
  });
}
