import { SHOWN_ACTION, shownSchema, type Shown } from '@/lib/domain/people/shown';
import { isLead, sendsFor, type Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { personRef, toPerson } from './select';

/** One time that something of a player was shown to somebody of the staff. */
export interface ShownLine {
  id: string;
  /** Null for somebody who is no longer known by name. */
  name: string | null;
  what: Shown;
  thingId: string;
  at: Date;
}

/**
 * Who of the staff was shown what of a player in the viewer's program, newest first, at most 100: for leads, the player,
 * and verified guardians. Empty for others.
 */
export async function listShown(viewer: Viewer, playerId: PersonId): Promise<ShownLine[]> {
  if (!isLead(viewer) && !sendsFor(viewer).includes(playerId)) return [];
  const rows = await prisma.auditEntry.findMany({
    where: { programId: viewer.programId, subject: `person:${playerId}`, action: SHOWN_ACTION },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    take: 100,
    select: { id: true, actorId: true, data: true, at: true },
  });
  const ids = rows.flatMap(({ actorId }) => (actorId ? [actorId] : []));
  const people = await prisma.person.findMany({
    where: { id: { in: ids } },
    select: { ...personRef, erasedAt: true, pseudonym: true },
  });
  // Two former coaches stay two: each goes by a stand-in.
  const names = new Map(
    people.map((row) => [row.id, row.erasedAt ? `${row.name} (${row.pseudonym})` : toPerson(row).name]),
  );
  return rows.flatMap(({ id, actorId, data, at }) => {
    const shown = shownSchema.safeParse(data).data;
    if (!shown) return [];
    return [{ id, name: names.get(actorId ?? '') ?? null, what: shown.what, thingId: shown.id, at }];
  });
}
