import { mayInvite, type InvitationInput } from '@/lib/domain/people/invitation';
import type { Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { InvitationId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { tokenHash } from './token-hash';
import { invitationsChangeableBy, playersVisibleTo } from './visibility';

/**
 * Keeps a new invitation by the hash of its token. An open one for the same address, role and player is withdrawn:
 * the newest link is the one that works. Refused, as if the player were absent, where the viewer may not invite so.
 */
export async function createInvitation(
  viewer: Viewer,
  tx: Tx,
  invitation: InvitationInput & { id: InvitationId; token: string; expiresAt: Date; at: Date },
): Promise<void> {
  const { id, role, name, email, playerId = null, token, expiresAt, at } = invitation;
  if (!mayInvite(viewer, invitation)) throw notFound('page');
  if (playerId) {
    const count = await db(tx).person.count({
      where: { AND: [{ id: playerId }, playersVisibleTo(viewer)] },
    });
    if (count !== 1) throw notFound('player');
  }
  const { programId } = viewer;
  await db(tx).invitation.updateMany({
    where: { programId, role, email, playerId, usedAt: null, withdrawnAt: null },
    data: { withdrawnAt: at },
  });
  await db(tx).invitation.create({
    data: {
      id,
      programId,
      role,
      name,
      email,
      playerId,
      tokenHash: tokenHash(token),
      expiresAt,
      createdById: viewer.personId,
      createdAt: at,
    },
  });
}

/** Takes an open invitation back: its link opens nothing any more. Leads every one of the program, others their own. */
export async function withdrawInvitation(viewer: Viewer, tx: Tx, id: InvitationId, at: Date): Promise<void> {
  const { count } = await db(tx).invitation.updateMany({
    where: { AND: [{ id, usedAt: null, withdrawnAt: null }, invitationsChangeableBy(viewer)] },
    data: { withdrawnAt: at },
  });
  if (count !== 1) throw notFound('open invitation');
}
