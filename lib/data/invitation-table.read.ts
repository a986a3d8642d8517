import { dayOfDate } from '@/lib/domain/people/age';
import type { TableStanding } from '@/lib/domain/people/invitation-rows';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';

const NOTHING: TableStanding = { members: [], open: [], players: [] };

/**
 * What the viewer's program knows of these addresses and children's names: members, invitations that are open at `now`,
 * and players of those names. An address that only another program knows is nobody. For leads; nothing for others.
 */
export async function readTableStanding(
  viewer: Viewer,
  asked: { emails: readonly string[]; childNames: readonly string[]; now: Date },
  tx?: Tx,
): Promise<TableStanding> {
  if (!isLead(viewer)) return NOTHING;
  const { programId } = viewer;
  const emails = [...asked.emails];
  // One after the other: a transaction has one connection.
  const members = await db(tx).person.findMany({
    where: { email: { in: emails }, memberships: { some: { programId } } },
    select: {
      email: true,
      memberships: { where: { programId }, select: { role: true } },
      wards: { where: { verifiedAt: { not: null } }, select: { playerId: true } },
    },
  });
  const open = await db(tx).invitation.findMany({
    where: {
      programId,
      email: { in: emails },
      usedAt: null,
      withdrawnAt: null,
      expiresAt: { gt: asked.now },
    },
    select: { email: true, role: true, playerId: true, childName: true },
  });
  const players = await db(tx).person.findMany({
    where: {
      name: { in: [...asked.childNames], mode: 'insensitive' },
      memberships: { some: { programId, role: 'player' } },
    },
    select: { id: true, name: true, birthDate: true },
  });
  return {
    members: members.flatMap(({ email, memberships, wards }) =>
      email
        ? [
            {
              email,
              roles: memberships.map(({ role }) => role),
              wards: wards.map(({ playerId }) => playerId as PersonId),
            },
          ]
        : [],
    ),
    open: open.map((one) => ({ ...one, playerId: one.playerId as PersonId | null })),
    players: players.map(({ id, name, birthDate }) => ({
      personId: id as PersonId,
      name,
      birthDate: birthDate && dayOfDate(birthDate),
    })),
  };
}

/** Which of these ids are invitations of the viewer's program. For leads; none for others. */
export async function listKnownInvitations(
  viewer: Viewer,
  ids: readonly string[],
  tx?: Tx,
): Promise<Set<string>> {
  if (!isLead(viewer)) return new Set();
  const rows = await db(tx).invitation.findMany({
    where: { id: { in: [...ids] }, programId: viewer.programId },
    select: { id: true },
  });
  return new Set(rows.map(({ id }) => id));
}
