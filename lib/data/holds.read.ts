import { isLead, sendsFor, type Viewer } from '@/lib/domain/people/viewer';
import type { HoldFacts } from '@/lib/domain/privacy/hold';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, prisma, type Tx } from './client';
import { playersVisibleTo } from './visibility';

/** Every legal hold on a player in the viewer's program, newest first, with reasons: for leads. Empty for others. */
export async function listHolds(viewer: Viewer, playerId: PersonId): Promise<HoldFacts[]> {
  if (!isLead(viewer)) return [];
  const rows = await prisma.legalHold.findMany({
    where: { programId: viewer.programId, playerId },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    take: 50,
  });
  const people = await prisma.person.findMany({
    where: { id: { in: rows.flatMap((row) => [row.byId, ...(row.endedById ? [row.endedById] : [])]) } },
    select: { id: true, name: true },
  });
  const names = new Map(people.map((one) => [one.id, one.name]));
  return rows.map(({ id, reason, byId, at, endedAt, endedById }) => ({
    id,
    reason,
    byName: names.get(byId) ?? 'Somebody who left',
    at,
    endedAt,
    endedByName: endedById && (names.get(endedById) ?? 'Somebody who left'),
  }));
}

/**
 * Whether a legal hold stands on a player, without its reason: for leads, the player and verified guardians. False for
 * others.
 */
export async function isHeld(viewer: Viewer, playerId: PersonId, tx?: Tx): Promise<boolean> {
  if (!isLead(viewer) && !sendsFor(viewer).includes(playerId)) return false;
  const isTheirs =
    (await db(tx).person.count({ where: { AND: [{ id: playerId }, playersVisibleTo(viewer)] } })) > 0;
  if (!isTheirs) return false;
  return (
    (await db(tx).legalHold.count({
      where: { programId: viewer.programId, playerId, endedAt: null },
    })) > 0
  );
}
