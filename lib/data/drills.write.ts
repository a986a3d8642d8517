import { v7 as uuid } from 'uuid';
import type { DrillId, DrillText } from '@/lib/domain/drills/drill';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import { db, type Tx } from './client';
import { putNextVersion } from './drill-version';
import { Prisma } from './generated/client';

const asRow = ({ drawing, ...text }: DrillText) => ({ ...text, drawing: drawing ?? Prisma.DbNull });

/** Puts drills into the library of the viewer's program, each a series of its own. Staff only. Returns their ids. */
export async function addDrills(
  viewer: Viewer,
  tx: Tx,
  drills: readonly DrillText[],
  at: Date,
): Promise<DrillId[]> {
  if (!isStaff(viewer)) throw notFound('drill');
  const rows = drills.map((drill) => ({
    id: uuid(),
    seriesId: uuid(),
    number: 1,
    programId: viewer.programId,
    createdById: viewer.personId,
    createdAt: at,
    ...asRow(drill),
  }));
  await db(tx).drill.createMany({ data: rows });
  return rows.map(({ id }) => id as unknown as DrillId);
}

/** Retires a drill of the viewer's program: it is not offered any more, and what was given of it stays. Staff only. */
export async function retireDrill(viewer: Viewer, tx: Tx, id: DrillId, at: Date): Promise<void> {
  await mustChange(viewer, tx, id);
  await db(tx).drill.updateMany({ where: { id, retiredAt: null }, data: { retiredAt: at } });
}

/**
 * Puts a new version of a drill in its place, with the clip of the old one, and returns its id. Lessons that gave the old
 * one keep it. Two versions
 * written at once: the second refuses (`conflict` by the caller) because the first retired what it started from.
 */
export async function replaceDrill(
  viewer: Viewer,
  tx: Tx,
  id: DrillId,
  drill: DrillText,
  at: Date,
): Promise<DrillId | null> {
  await mustChange(viewer, tx, id);
  return putNextVersion(tx, id, asRow(drill), { byId: viewer.personId, at });
}

/** Refuses everybody but staff of the drill's program, as if it were absent. */
async function mustChange(viewer: Viewer, tx: Tx, id: DrillId): Promise<void> {
  const where = { id, programId: viewer.programId };
  if (!isStaff(viewer) || (await db(tx).drill.count({ where })) === 0) throw notFound('drill');
}
