import { invitationState, type InvitationState } from '@/lib/domain/people/invitation';
import { isLead, type Role, type Viewer } from '@/lib/domain/people/viewer';
import { dayOfDate, type Day } from '@/lib/domain/people/age';
import type { InvitationId, PersonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { addressOf, expectedOf } from './expected-children';
import { olderThan, pageOf, parsePlace } from './keyset';
import { invitationsVisibleTo } from './visibility';

/** An invitation as a list shows it. */
export interface InvitationCard {
  id: InvitationId;
  role: Role;
  name: string;
  email: string;
  playerId: PersonId | null;
  playerName: string | null;
  state: InvitationState;
  createdAt: Date;
  expiresAt: Date;
  /** Whether the viewer may take it back while it is open. */
  mayWithdraw: boolean;
}

/**
 * Invitations, newest first: all of the program for staff, else those that the viewer sent; `after` is the `next` of the
 * page before.
 */
export async function listInvitations(
  viewer: Viewer,
  now: Date,
  { after = null, take = 30 }: { after?: string | null; take?: number } = {},
): Promise<{ rows: InvitationCard[]; next: string | null }> {
  const found = await prisma.invitation.findMany({
    where: { AND: [invitationsVisibleTo(viewer), olderThan('createdAt', parsePlace(after))] },
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take: take + 1,
    select: {
      id: true,
      role: true,
      name: true,
      email: true,
      playerId: true,
      createdAt: true,
      expiresAt: true,
      usedAt: true,
      withdrawnAt: true,
      createdById: true,
    },
  });
  const { rows, next } = pageOf(found, take, ({ createdAt, id }) => ({ at: createdAt, id }));
  const playerIds = rows.flatMap((row) => (row.playerId ? [row.playerId] : []));
  const players = await prisma.person.findMany({
    where: { id: { in: playerIds } },
    select: { id: true, name: true },
  });
  const nameOf = new Map(players.map((player) => [player.id, player.name]));
  return {
    rows: rows.map(({ usedAt, withdrawnAt, createdById, ...row }) => ({
      ...row,
      id: row.id as InvitationId,
      playerId: row.playerId as PersonId | null,
      playerName: row.playerId ? (nameOf.get(row.playerId) ?? null) : null,
      state: invitationState({ usedAt, withdrawnAt, expiresAt: row.expiresAt }, now),
      mayWithdraw: isLead(viewer) || createdById === viewer.personId,
    })),
    next,
  };
}

/** A child whom the program expects the viewer, their guardian, to add. */
export interface ExpectedChild {
  invitationId: InvitationId;
  name: string;
  birthDate: Day | null;
}

/** Children of accepted invitations to the viewer that are not added yet, oldest first. */
export async function listExpectedChildren(viewer: Viewer): Promise<ExpectedChild[]> {
  const rows = await prisma.invitation.findMany({
    where: expectedOf(viewer, await addressOf(viewer)),
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    take: 20,
    select: { id: true, childName: true, childBirthDate: true },
  });
  return rows.flatMap(({ id, childName, childBirthDate }) =>
    childName
      ? [
          {
            invitationId: id as InvitationId,
            name: childName,
            birthDate: childBirthDate && dayOfDate(childBirthDate),
          },
        ]
      : [],
  );
}
