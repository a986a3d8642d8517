import { v7 as uuid } from 'uuid';
import { isSamePrice, type PriceDraft } from '@/lib/domain/billing/prices';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import { db, type Tx } from './client';

/**
 * Puts a line on the price list, or a new version of it in the place of the present one; what was bought keeps what it
 * was bought under. Answers false when nothing changes. There is one line for a single lesson. Leads only.
 */
export async function savePrice(
  viewer: Viewer,
  tx: Tx,
  line: PriceDraft & { seriesId: string; currency: string; at: Date },
): Promise<boolean> {
  if (!isLead(viewer)) throw notFound('price');
  const { at, ...facts } = line;
  // Two leads at once would both make the next version: the program's row is their lock.
  await db(tx).$queryRaw`SELECT 1 FROM "Program" WHERE id = ${viewer.programId}::uuid FOR UPDATE`;
  const ofLine = facts.kind === 'lesson' ? { kind: facts.kind } : { seriesId: facts.seriesId };
  const [latest] = await db(tx).price.findMany({
    where: { programId: viewer.programId, ...ofLine },
    orderBy: [{ retiredAt: { sort: 'desc', nulls: 'first' } }, { number: 'desc' }],
    take: 1,
  });
  if (latest && latest.kind !== facts.kind) throw notFound('price');
  const elsewhere = await db(tx).price.count({
    where: { seriesId: facts.seriesId, programId: { not: viewer.programId } },
  });
  if (elsewhere > 0) throw notFound('price');
  if (latest && latest.retiredAt === null && isSamePrice(latest, facts)) return false;
  await db(tx).price.updateMany({
    where: { programId: viewer.programId, retiredAt: null, ...ofLine },
    data: { retiredAt: at },
  });
  const seriesId = latest?.seriesId ?? facts.seriesId;
  const last = await db(tx).price.aggregate({ where: { seriesId }, _max: { number: true } });
  await db(tx).price.create({
    data: {
      ...facts,
      seriesId,
      id: uuid(),
      programId: viewer.programId,
      number: (last._max.number ?? 0) + 1,
      createdAt: at,
    },
  });
  return true;
}

/** Takes a pack off the price list; packs that were sold stay as they are. Leads only. Refused when it is not there. */
export async function retirePrice(viewer: Viewer, tx: Tx, seriesId: string, at: Date): Promise<void> {
  if (!isLead(viewer)) throw notFound('price');
  const { count } = await db(tx).price.updateMany({
    where: { programId: viewer.programId, seriesId, kind: 'pack', retiredAt: null },
    data: { retiredAt: at },
  });
  if (count === 0) throw notFound('price');
}
