import { dateOfDay } from '@/lib/domain/people/age';
import { mayInvite, type InvitationInput } from '@/lib/domain/people/invitation';
import type { RowInvitation } from '@/lib/domain/people/invitation-rows';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { InvitationId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { addressOf, expectedOf } from './expected-children';
import { tokenHash } from './token-hash';
import { invitationsChangeableBy, playersVisibleTo } from './visibility';

/** Who comes with somebody out of a table: a guardian's child, a minor's guardian. */
type Beside = Pick<RowInvitation, 'childName' | 'childBirthDate' | 'guardianName' | 'guardianEmail'>;

/**
 * Keeps a new invitation by the hash of its token. An open one for the same address, role and player (or child) is
 * withdrawn: the newest link is the one that works. Refused, as if the player were absent, where the viewer may not
 * invite so.
 */
export async function createInvitation(
  viewer: Viewer,
  tx: Tx,
  invitation: InvitationInput & { id: InvitationId; token: string; expiresAt: Date; at: Date },
  beside: Beside = { childName: null, childBirthDate: null, guardianName: null, guardianEmail: null },
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
    where: {
      ...{ programId, role, email, playerId, usedAt: null, withdrawnAt: null },
      childName: beside.childName,
    },
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
      ...beside,
      childBirthDate: beside.childBirthDate && dateOfDay(beside.childBirthDate),
    },
  });
}

/** Holds the invitations of the viewer's program until the transaction ends: two tables at once go one after the other. Leads only. */
export async function lockInvitations(viewer: Viewer, tx: Tx): Promise<void> {
  if (!isLead(viewer)) throw notFound('page');
  await db(tx).$queryRaw`SELECT 1 FROM "Program" WHERE id = ${viewer.programId}::uuid FOR UPDATE`;
}

/** Takes an open invitation back: its link opens nothing any more. Leads every one of the program, others their own. */
export async function withdrawInvitation(viewer: Viewer, tx: Tx, id: InvitationId, at: Date): Promise<void> {
  const { count } = await db(tx).invitation.updateMany({
    where: { AND: [{ id, usedAt: null, withdrawnAt: null }, invitationsChangeableBy(viewer)] },
    data: { withdrawnAt: at },
  });
  if (count !== 1) throw notFound('open invitation');
}

/** Forgets the child of an accepted invitation to the viewer: it was added, or is none of theirs. */
export async function forgetExpectedChild(viewer: Viewer, tx: Tx, id: InvitationId): Promise<void> {
  const where = expectedOf(viewer, await addressOf(viewer, tx));
  const { count } = await db(tx).invitation.updateMany({
    where: { AND: [{ id }, where] },
    data: { childName: null, childBirthDate: null },
  });
  if (count !== 1) throw notFound('invitation');
}
