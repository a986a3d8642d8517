import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { concernsReadableBy, threadsVisibleTo } from './visibility';

/** A concern as it is written; the id is minted by the form. */
export interface NewConcern {
  id: string;
  aboutId: PersonId | null;
  /** The player whose thread it is about. */
  playerId: PersonId | null;
  body: string;
  isNamed: boolean;
}

/** Keeps a concern. Returns false when it was there already: the same id again is the same concern. */
export async function keepConcern(viewer: Viewer, tx: Tx, concern: NewConcern, at: Date): Promise<boolean> {
  if (viewer.roles.length === 0) throw notFound('program');
  const { id, aboutId, playerId, body, isNamed } = concern;
  const thread = playerId
    ? await db(tx).thread.findFirst({
        where: { AND: [{ playerId }, threadsVisibleTo(viewer)] },
        select: { id: true },
      })
    : null;
  if (playerId && !thread) throw notFound('player');
  const isHere =
    aboutId === null ||
    (await db(tx).membership.count({ where: { programId: viewer.programId, personId: aboutId } })) > 0;
  if (!isHere) throw notFound('person');
  const { count } = await db(tx).concern.createMany({
    data: [
      {
        id,
        programId: viewer.programId,
        raisedById: isNamed ? viewer.personId : null,
        aboutId,
        threadId: thread?.id ?? null,
        body,
        at,
      },
    ],
    skipDuplicates: true,
  });
  return count === 1;
}

/** The addresses of the leads who may read a concern about somebody: all but that one. */
export async function listConcernReaders(
  viewer: Viewer,
  tx: Tx,
  aboutId: PersonId | null,
): Promise<{ id: PersonId; email: string | null }[]> {
  if (viewer.roles.length === 0) return [];
  const rows = await db(tx).person.findMany({
    where: {
      memberships: { some: { programId: viewer.programId, role: 'lead' } },
      ...(aboutId ? { id: { not: aboutId } } : {}),
    },
    select: { id: true, email: true },
    orderBy: { id: 'asc' },
  });
  return rows.map((row) => ({ id: row.id as PersonId, email: row.email }));
}

/** Closes a concern with what came of it. For leads it is not about. Returns false when it was closed already. */
export async function closeConcern(
  viewer: Viewer,
  tx: Tx,
  { id, outcome }: { id: string; outcome: string },
  at: Date,
): Promise<boolean> {
  const where = { AND: [{ id }, concernsReadableBy(viewer)] };
  if (!isLead(viewer) || (await db(tx).concern.count({ where })) === 0) throw notFound('concern');
  const { count } = await db(tx).concern.updateMany({
    where: { id, closedAt: null },
    data: { closedAt: at, closedById: viewer.personId, outcome },
  });
  return count === 1;
}
