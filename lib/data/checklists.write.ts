import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import { db, type Tx } from './client';
import { toChecklist } from './select';

/** Where the program's checklist stands, while nobody else can save one. */
export interface LockedChecklist {
  number: number;
  items: Checklist;
  /** Who made it; null for the one that the program began with. */
  by: string | null;
  /** Ids of every item that any version ever had. */
  everUsed: Set<string>;
  /** The number of the version that has the asked-for id already; null when none has. */
  kept: number | null;
}

/** Holds the checklist of the viewer's program until the transaction ends, and tells where it stands. Leads only. */
export async function lockChecklist(viewer: Viewer, tx: Tx, id: string): Promise<LockedChecklist> {
  if (!isLead(viewer)) throw notFound('checklist');
  const { programId } = viewer;
  await db(tx).$queryRaw`SELECT 1 FROM "Program" WHERE id = ${programId}::uuid FOR UPDATE`;
  const rows = await db(tx).checklist.findMany({
    where: { programId },
    select: { id: true, number: true, items: true, createdById: true },
    orderBy: { number: 'desc' },
  });
  const newest = rows[0];
  const author = newest?.createdById
    ? await db(tx).person.findUnique({ where: { id: newest.createdById }, select: { name: true } })
    : null;
  return {
    number: newest?.number ?? 0,
    items: newest ? toChecklist(newest.items) : [],
    by: author?.name ?? null,
    everUsed: new Set(rows.flatMap((row) => toChecklist(row.items).map((item) => item.id))),
    kept: rows.find((row) => row.id === id)?.number ?? null,
  };
}

/** Adds a version of the checklist; lessons begun before keep theirs. Leads only, after `lockChecklist`. */
export async function addChecklistVersion(
  viewer: Viewer,
  tx: Tx,
  version: { id: string; number: number; items: Checklist; at: Date },
): Promise<number> {
  if (!isLead(viewer)) throw notFound('checklist');
  const { id, number, items, at } = version;
  await db(tx).checklist.create({
    data: { id, programId: viewer.programId, number, items, createdById: viewer.personId, createdAt: at },
  });
  return number;
}
