import { SHOWN_ACTION, shownSchema, type Shown } from '@/lib/domain/people/shown';
import { isLead, sendsFor, type Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { olderThan, pageOf, parsePlace } from './keyset';
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
 * Who of the staff was shown what of a player in the viewer's program, newest first: for leads, the player, and verified
 * guardians; empty for others. `after` is the `next` of the page before.
 */
export async function listShown(
  viewer: Viewer,
  playerId: PersonId,
  { after = null, take = 60 }: { after?: string | null; take?: number } = {},
): Promise<{ rows: ShownLine[]; next: string | null }> {
  if (!isLead(viewer) && !sendsFor(viewer).includes(playerId)) return { rows: [], next: null };
  const found = await prisma.auditEntry.findMany({
    where: {
      ...{ programId: viewer.programId, subject: `person:${playerId}`, action: SHOWN_ACTION },
      ...olderThan('at', parsePlace(after)),
    },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    take: take + 1,
    select: { id: true, actorId: true, data: true, at: true },
  });
  const { rows, next } = pageOf(found, take, (row) => row);
  const ids = rows.flatMap(({ actorId }) => (actorId ? [actorId] : []));
  const people = await prisma.person.findMany({
    where: { id: { in: ids } },
    select: { ...personRef, erasedAt: true, pseudonym: true },
  });
  // Two former coaches stay two: each goes by a stand-in.
  const names = new Map(
    people.map((row) => [row.id, row.erasedAt ? `${row.name} (${row.pseudonym})` : toPerson(row).name]),
  );
  const lines = rows.flatMap(({ id, actorId, data, at }) => {
    const shown = shownSchema.safeParse(data).data;
    if (!shown) return [];
    return [{ id, name: names.get(actorId ?? '') ?? null, what: shown.what, thingId: shown.id, at }];
  });
  return { rows: lines, next };
}
