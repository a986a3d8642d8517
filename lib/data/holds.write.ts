import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { lockDeletion } from './strip-media';
import { playersVisibleTo } from './visibility';

/**
 * Places a legal hold on a player of the viewer's program; one that stands already stays as it is, and the answer is
 * false. Waits for a deletion that is at work. Leads only.
 */
export async function placeHold(
  viewer: Viewer,
  tx: Tx,
  hold: { id: string; playerId: PersonId; reason: string },
  at: Date,
): Promise<boolean> {
  const isTheirs =
    isLead(viewer) &&
    (await db(tx).person.count({ where: { AND: [{ id: hold.playerId }, playersVisibleTo(viewer)] } })) > 0;
  if (!isTheirs) throw notFound('player');
  await lockDeletion(tx, viewer.programId);
  const standing = { programId: viewer.programId, playerId: hold.playerId, endedAt: null };
  if ((await db(tx).legalHold.count({ where: standing })) > 0) return false;
  const { count } = await db(tx).legalHold.createMany({
    data: [{ ...hold, programId: viewer.programId, byId: viewer.personId, at }],
    skipDuplicates: true,
  });
  return count === 1;
}

/** Ends a legal hold; answers whose it was, or null when it had ended before. Leads only. */
export async function endHold(viewer: Viewer, tx: Tx, id: string, at: Date): Promise<PersonId | null> {
  const hold = isLead(viewer)
    ? await db(tx).legalHold.findFirst({
        where: { id, programId: viewer.programId },
        select: { playerId: true },
      })
    : null;
  if (!hold) throw notFound('hold');
  const { count } = await db(tx).legalHold.updateMany({
    where: { id, endedAt: null },
    data: { endedAt: at, endedById: viewer.personId },
  });
  return count === 1 ? (hold.playerId as PersonId) : null;
}
