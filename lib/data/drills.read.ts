import type { Drill } from '@/lib/domain/drills/drill';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { db, type Tx } from './client';
import { drillFacts, toDrill } from './drill-select';

/** The drills of the viewer's program that are not retired, by name. For staff; empty for anybody else. */
export async function listDrills(viewer: Viewer, tx?: Tx): Promise<Drill[]> {
  if (!isStaff(viewer)) return [];
  const rows = await db(tx).drill.findMany({
    where: { programId: viewer.programId, retiredAt: null },
    select: drillFacts,
    orderBy: [{ title: 'asc' }, { id: 'asc' }],
    take: 500,
  });
  return rows.map(toDrill);
}
