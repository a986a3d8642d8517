import { writeAudit } from '@/lib/data/audit.write';
import { listWards } from '@/lib/data/people.read';
import { setContactPause } from '@/lib/data/people.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';
import { tell } from './tell';
import { loadSide, tellStaff } from './thread-side';

/**
 * A guardian stops, or allows again, that adults of the program write to their child. It holds from the next write on;
 * of a pause the staff and the other guardians are told.
 */
export async function pauseContact(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  { playerId, isPaused }: { playerId: PersonId; isPaused: boolean },
): Promise<void> {
  const now = clock.now();
  await transaction(viewer, async (tx) => {
    await setContactPause(viewer, tx, playerId, isPaused ? now : null);
    await writeAudit(viewer, tx, {
      action: isPaused ? 'contact.paused' : 'contact.resumed',
      subject: `person:${playerId}`,
    });
    const ward = (await listWards(viewer)).find((one) => one.personId === playerId);
    if (!isPaused || !ward?.threadId) return;
    const side = await loadSide(viewer, ward.threadId, now, tx);
    const data = { programName: side.program.name, playerName: ward.name, path: `/players/${playerId}` };
    const body = { kind: 'contact-paused', data } as const;
    await tellStaff(viewer, tx, side, now, body, null);
    const others = side.guardians.filter((one) => one.isVerified && one.id !== viewer.personId);
    await tell(viewer, tx, body, {
      programId: viewer.programId,
      playerId,
      to: others.flatMap(({ id, email }) => (email ? [{ personId: id, email, at: now }] : [])),
      now,
    });
    await queue.drainOutbox(tx);
  });
}
