import { v7 as uuid } from 'uuid';
import type { MeasureName } from '@/lib/domain/measures/names';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { playersVisibleTo } from './visibility';

/**
 * Ends the present target of a measure and puts the new one in its place; no limits: it only ends. For one player, or
 * for everybody of the viewer's program (`playerId` null). Staff only.
 */
export async function replaceTarget(
  viewer: Viewer,
  tx: Tx,
  target: {
    playerId: PersonId | null;
    measure: MeasureName;
    low: number | null;
    high: number | null;
    at: Date;
  },
): Promise<void> {
  const { playerId, measure, low, high, at } = target;
  if (!isStaff(viewer)) throw notFound('player');
  if (playerId !== null) {
    const player = await db(tx).person.findFirst({
      where: { AND: [{ id: playerId }, playersVisibleTo(viewer)] },
      select: { id: true },
    });
    if (!player) throw notFound('player');
  }
  const { programId } = viewer;
  await db(tx).measureTarget.updateMany({
    where: { programId, playerId, measure, endedAt: null },
    data: { endedAt: at },
  });
  if (low === null && high === null) return;
  await db(tx).measureTarget.create({
    data: { id: uuid(), programId, playerId, measure, low, high, setById: viewer.personId, setAt: at },
  });
}
