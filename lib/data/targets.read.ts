import { MEASURE_NAMES } from '@/lib/domain/measures/names';
import type { Target } from '@/lib/domain/measures/target';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { playersVisibleTo } from './visibility';

/**
 * The targets that hold or held for a player, their own and the program's, the newest thousand, oldest first. Empty when the player is
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
    orderBy: [{ setAt: 'desc' }, { id: 'desc' }],
    take: 1000,
  });
  return rows.reverse().flatMap(({ measure: name, playerId: of, ...row }) => {
    const measure = MEASURE_NAMES.find((one) => one === name);
    return measure ? [{ ...row, measure, isOwn: of !== null }] : [];
  });
}
