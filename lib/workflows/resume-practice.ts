import { writeAudit } from '@/lib/data/audit.write';
import { openPractice } from '@/lib/data/practice.write';
import { readThread } from '@/lib/data/threads.read';
import { transaction } from '@/lib/data/transaction';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';
import { assertContact, loadSide } from './thread-side';

/** Opens a player's practice again after pain. Only a coach, and only after the player's side said that a clinician cleared it. */
export async function resumePractice(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  playerId: PersonId,
): Promise<void> {
  if (!isStaff(viewer)) throw notFound('player');
  const thread = await readThread(viewer, playerId);
  if (!thread) throw notFound('player');
  await transaction(viewer, async (tx) => {
    assertContact(viewer, await loadSide(viewer, thread.id, clock.now(), tx), 'Practice stays paused.');
    if (!(await openPractice(viewer, tx, playerId))) {
      throw new CagepostError(
        'wrong-state',
        'Practice stays paused: the player or a guardian first says that a clinician cleared it.',
      );
    }
    await writeAudit(viewer, tx, { action: 'practice.resumed', subject: `person:${playerId}` });
  });
}
