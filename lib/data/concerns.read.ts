import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import type { Prisma } from './generated/client';
import { olderThan, pageOf, parsePlace } from './keyset';
import { concernsReadableBy } from './visibility';

/** One concern as a lead reads it; null names where it was raised without one, or is about nobody named. */
export interface ConcernCard {
  id: string;
  body: string;
  at: Date;
  raisedBy: string | null;
  about: string | null;
  player: { id: PersonId; name: string } | null;
  closed: { at: Date; by: string | null; outcome: string } | null;
}

/**
 * The open or closed concerns of the program that the viewer may read, the last raised or closed first; `after` is the
 * `next` of the page before. For leads, but never the person a concern is about.
 */
export async function listConcerns(
  viewer: Viewer,
  state: 'open' | 'closed',
  { after = null, take = 20 }: { after?: string | null; take?: number } = {},
): Promise<{ rows: ConcernCard[]; next: string | null }> {
  if (!isLead(viewer)) return { rows: [], next: null };
  const field = state === 'open' ? 'at' : 'closedAt';
  const found = await prisma.concern.findMany({
    where: {
      AND: [
        concernsReadableBy(viewer),
        { closedAt: state === 'open' ? null : { not: null } },
        olderThan(field, parsePlace(after)),
      ],
    },
    orderBy: [{ [field]: 'desc' }, { id: 'desc' }],
    take: take + 1,
  });
  const { rows, next } = pageOf(found, take, ({ id, at, closedAt }) => ({
    id,
    at: state === 'open' ? at : (closedAt ?? at),
  }));
  const ids = rows.flatMap((row) =>
    [row.raisedById, row.aboutId, row.closedById].filter((id) => id !== null),
  );
  const threadIds = rows.flatMap((row) => (row.threadId ? [row.threadId] : []));
  const [people, threads] = await Promise.all([
    prisma.person.findMany({ where: { id: { in: ids } }, select: { id: true, name: true } }),
    prisma.thread.findMany({
      where: { id: { in: threadIds }, programId: viewer.programId },
      select: { id: true, player: { select: { id: true, name: true } } },
    }),
  ]);
  const nameOf = (id: string | null) => people.find((one) => one.id === id)?.name ?? null;
  const cards = rows.map((row) => {
    const player = threads.find((one) => one.id === row.threadId)?.player;
    return {
      id: row.id,
      body: row.body,
      at: row.at,
      raisedBy: nameOf(row.raisedById),
      about: nameOf(row.aboutId),
      player: player ? { id: player.id as PersonId, name: player.name } : null,
      closed: row.closedAt && { at: row.closedAt, by: nameOf(row.closedById), outcome: row.outcome ?? '' },
    };
  });
  return { rows: cards, next };
}

/** How many concerns wait for the viewer; 0 for everybody who may read none. */
export async function countConcerns(viewer: Viewer): Promise<number> {
  return isLead(viewer)
    ? prisma.concern.count({ where: { AND: [concernsReadableBy(viewer), { closedAt: null }] } })
    : 0;
}

/** The staff of the program by name, for who raises a concern to say whom it is about. */
export async function listStaffNames(viewer: Viewer): Promise<{ id: PersonId; name: string }[]> {
  const where: Prisma.PersonWhereInput = {
    memberships: { some: { programId: viewer.programId, role: { in: ['coach', 'lead'] } } },
  };
  if (viewer.roles.length === 0) return [];
  const rows = await prisma.person.findMany({
    where,
    select: { id: true, name: true },
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
  });
  return rows.map((row) => ({ id: row.id as PersonId, name: row.name }));
}
