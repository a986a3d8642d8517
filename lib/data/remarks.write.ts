import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { RemarkId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';

export interface RemarkInput {
  /** New for each version. */
  id: RemarkId;
  /** The same for all versions. */
  seriesId: RemarkId;
  title: string;
  text: string;
  /** Length of a spoken one as its recorder tells; null for a written one. */
  durationMs: number | null;
  at: Date;
}

const own = (viewer: Viewer, seriesId: RemarkId) => ({
  seriesId,
  ownerId: viewer.personId,
  programId: viewer.programId,
});

/**
 * Puts a remark on the viewer's own shelf: the first of its series, or a new version that retires the one before. The
 * same id again changes nothing and answers `false`. Copies that were used keep their version.
 */
export async function keepRemark(viewer: Viewer, tx: Tx, input: RemarkInput): Promise<boolean> {
  if (!isStaff(viewer)) throw notFound('remark');
  const { at, ...facts } = input;
  await db(tx).$executeRaw`SELECT pg_advisory_xact_lock(hashtext(${input.seriesId}))`;
  const known = await db(tx).remark.findUnique({
    where: { id: input.id },
    select: { ownerId: true, seriesId: true },
  });
  if (known) {
    if (known.ownerId !== viewer.personId || known.seriesId !== input.seriesId) throw notFound('remark');
    return false;
  }
  const series = await db(tx).remark.findMany({
    where: { seriesId: input.seriesId },
    select: { ownerId: true, number: true },
  });
  if (series.some((one) => one.ownerId !== viewer.personId)) throw notFound('remark');
  await db(tx).remark.updateMany({
    where: { ...own(viewer, input.seriesId), retiredAt: null },
    data: { retiredAt: at },
  });
  await db(tx).remark.create({
    data: {
      ...facts,
      number: Math.max(0, ...series.map((one) => one.number)) + 1,
      programId: viewer.programId,
      ownerId: viewer.personId,
      createdAt: at,
    },
  });
  return true;
}

/** Gives a remark of the viewer's own another title; its version stays. */
export async function renameRemark(viewer: Viewer, tx: Tx, seriesId: RemarkId, title: string): Promise<void> {
  const { count } = await db(tx).remark.updateMany({
    where: { ...own(viewer, seriesId), retiredAt: null },
    data: { title },
  });
  if (count === 0 || !isStaff(viewer)) throw notFound('remark');
}

/** Takes a remark of the viewer's own off the shelf; used copies stay. */
export async function retireRemark(viewer: Viewer, tx: Tx, seriesId: RemarkId, at: Date): Promise<void> {
  const where = own(viewer, seriesId);
  if (!isStaff(viewer) || (await db(tx).remark.count({ where })) === 0) throw notFound('remark');
  await db(tx).remark.updateMany({ where: { ...where, retiredAt: null }, data: { retiredAt: at } });
}

/** Refuses a recipe that names a remark which is not the viewer's own or whose voice is not here yet. */
export async function assertRemarksThere(viewer: Viewer, tx: Tx, ids: readonly string[]): Promise<void> {
  const wanted = new Set(ids);
  if (wanted.size === 0) return;
  const found = await db(tx).remark.count({
    where: {
      id: { in: [...wanted] },
      ownerId: viewer.personId,
      programId: viewer.programId,
      storageKey: { not: null },
    },
  });
  if (found < wanted.size)
    throw new CagepostError(
      'not-found',
      'A remark that was dropped in here is not on your shelf, or its voice has not arrived yet. The breakdown is kept on this device; try again in a moment, or take the remark out.',
    );
}
