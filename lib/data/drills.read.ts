import type { Drill } from '@/lib/domain/drills/drill';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { db, type Tx } from './client';
import { drillFacts, toDrill } from './drill-select';
import { afterTitle, titlePlace } from './keyset';

// As many drills as a coach chooses from while they judge.
const MOST_DRILLS = 1000;

/**
 * The drills of the viewer's program that are not retired, by name; `after` is the `next` of the page before. For staff;
 * empty for anybody else.
 */
export async function listDrills(
  viewer: Viewer,
  { after = null, take = MOST_DRILLS }: { after?: string | null; take?: number } = {},
  tx?: Tx,
): Promise<{ rows: Drill[]; next: string | null }> {
  if (!isStaff(viewer)) return { rows: [], next: null };
  const rows = await db(tx).drill.findMany({
    where: { programId: viewer.programId, retiredAt: null, ...afterTitle(after) },
    select: drillFacts,
    orderBy: [{ title: 'asc' }, { id: 'asc' }],
    take: take + 1,
  });
  const page = rows.slice(0, take);
  const last = rows.length > take ? page.at(-1) : undefined;
  return { rows: page.map(toDrill), next: last ? titlePlace(last) : null };
}
