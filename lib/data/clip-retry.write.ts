import { canTryAgain } from '@/lib/domain/clips/clip-faults';
import { CLIP_FAULTS } from '@/lib/domain/clips/clip';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { ClipId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { clipsVisibleTo, drillClipsVisibleTo } from './visibility';

/**
 * Puts a failed clip back to `uploaded`, so that preparing may take it up: for its sender's side and for staff, one of
 * a drill for staff. Throws
 * `not-found` for everybody else and `wrong-state` when another try makes no sense.
 */
export async function askToTryAgain(viewer: Viewer, tx: Tx, id: ClipId): Promise<void> {
  const clip = await db(tx).clip.findFirst({
    where: { id, OR: [clipsVisibleTo(viewer), drillClipsVisibleTo(viewer)] },
    select: {
      uploadedById: true,
      lesson: { select: { thread: { select: { playerId: true } } } },
    },
  });
  if (!clip) throw notFound('clip');
  const playerId = clip.lesson?.thread.playerId ?? null;
  const isSender =
    playerId !== null &&
    (clip.uploadedById === viewer.personId ||
      playerId === viewer.personId ||
      viewer.wards.some((ward) => ward === playerId));
  if (!isSender && !isStaff(viewer)) throw notFound('clip');

  // One statement decides, so that two who ask at once queue one try.
  const { count } = await db(tx).clip.updateMany({
    where: {
      id,
      state: 'failed',
      storageKey: { not: null },
      failCode: { in: CLIP_FAULTS.filter(canTryAgain) },
    },
    data: { state: 'uploaded', progress: 0, failCode: null, failDetail: null },
  });
  if (count === 0)
    throw new CagepostError(
      'wrong-state',
      'There is nothing to try again: this clip is ready, on its way, or has to be sent anew.',
      { clipId: id },
    );
}
