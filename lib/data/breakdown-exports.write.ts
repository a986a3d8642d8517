import type { ExportCaptions } from '@/lib/domain/breakdowns/breakdown';
import type { Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { BreakdownId, ExportId } from '@/lib/domain/shared/ids';
import { readBreakdown } from './breakdowns.read';
import { db, type Tx } from './client';
import { breakdownsVisibleTo } from './visibility';

/**
 * Refuses everybody who may not make a file of that breakdown, as if it were absent: for a minor only a verified
 * guardian and staff may.
 */
export async function assertMayExport(viewer: Viewer, tx: Tx, id: BreakdownId, at: Date): Promise<void> {
  const breakdown = await readBreakdown(viewer, id, tx, at);
  if (!breakdown?.mayExport) throw notFound('breakdown');
}

/** Asks for an export under the viewer's own id; the same id again answers `false`. For who may export. */
export async function createExport(
  viewer: Viewer,
  tx: Tx,
  input: { id: ExportId; breakdownId: BreakdownId; captions: ExportCaptions; at: Date },
): Promise<boolean> {
  await assertMayExport(viewer, tx, input.breakdownId, input.at);
  const { at, ...facts } = input;
  const { count } = await db(tx).breakdownExport.createMany({
    data: { ...facts, byId: viewer.personId, createdAt: at },
    skipDuplicates: true,
  });
  if (count === 1) return true;
  const known = await db(tx).breakdownExport.findUnique({
    where: { id: input.id },
    select: { byId: true, breakdownId: true },
  });
  if (known?.byId !== viewer.personId || known.breakdownId !== input.breakdownId) throw notFound('export');
  return false;
}

/** Ends an export of the viewer's own that is not ready; answers whether there was one to end. */
export async function cancelExport(viewer: Viewer, tx: Tx, id: ExportId): Promise<boolean> {
  const where = { id, byId: viewer.personId, breakdown: breakdownsVisibleTo(viewer) };
  if ((await db(tx).breakdownExport.count({ where })) === 0) throw notFound('export');
  const { count } = await db(tx).breakdownExport.updateMany({
    where: { id, state: { in: ['waiting', 'working', 'failed'] } },
    data: { state: 'cancelled' },
  });
  return count > 0;
}
