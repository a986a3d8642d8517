import { MEASURE_NAMES } from '@/lib/domain/measures/names';
import type { Target } from '@/lib/domain/measures/target';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { playersVisibleTo } from './visibility';

/**
 * Every target that holds or held for a player, their own and the program's, oldest first. Empty when the player is
 * not the viewer's to see.
 */
export async function listTargets(viewer: Viewer, playerId: PersonId, tx?: Tx): Promise<Target[]> {
  const player = await db(tx).person.findFirst({
    where: { AND: [{ id: playerId }, playersVisibleTo(viewer)] },
    select: { id: true },
  });
  if (!player) return [];
  const rows = await db(tx).measureTarget.findMany({
    where: { programId: viewer.programId, OR: [{ playerId }, { playerId: null }] },
    select: { measure: true, low: true, high: true, setAt: true, endedAt: true, playerId: true },
    orderBy: [{ setAt: 'asc' }, { id: 'asc' }],
    take: 1000,
  });
  return rows.flatMap(({ measure: name, playerId: of, ...row }) => {
    const measure = MEASURE_NAMES.find((one) => one === name);
    return measure ? [{ ...row, measure, isOwn: of !== null }] : [];
  });
}
