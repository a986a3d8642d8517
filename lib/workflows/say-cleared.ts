import { writeAudit } from '@/lib/data/audit.write';
import { noteCleared } from '@/lib/data/practice.write';
import { readThread } from '@/lib/data/threads.read';
import { transaction } from '@/lib/data/transaction';
import { dayIn, type Day } from '@/lib/domain/people/age';
import { isMinor } from '@/lib/domain/people/safeguarding';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/**
 * Keeps the word of the player's side that a clinician cleared practice after pain: a guardian's for a minor, else the
 * player's own. Nothing opens by it; the coach decides.
 */
export async function sayCleared(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  playerId: PersonId,
): Promise<void> {
  const thread = await readThread(viewer, playerId);
  if (!thread) throw notFound('player');
  const today = dayIn(thread.program.timeZone, clock.now());
  const isYoung = isMinor({ birthDate: thread.player.birthDate as Day | null }, today);
  if (isYoung && viewer.personId === playerId) {
    throw new CagepostError('safeguarding', 'A guardian says this for you. Practice stays paused.');
  }
  await transaction(viewer, async (tx) => {
    if (!(await noteCleared(viewer, tx, playerId))) {
      throw new CagepostError('wrong-state', 'Nothing is paused. Nothing was changed.');
    }
    await writeAudit(viewer, tx, { action: 'practice.said-cleared', subject: `person:${playerId}` });
  });
}
