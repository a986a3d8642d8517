import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { ClipId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { clipsVisibleTo, drillClipsVisibleTo } from './visibility';

/**
 * A clip that the viewer may fill with bytes: the viewer announced it, and its lesson is not withdrawn; of a drill, for
 * staff.
 */
async function ownClip(viewer: Viewer, tx: Tx | undefined, id: ClipId) {
  const clip = await db(tx).clip.findFirst({
    where: {
      id,
      uploadedById: viewer.personId,
      OR: [
        { AND: [{ lesson: { state: { not: 'withdrawn' } } }, clipsVisibleTo(viewer)] },
        ...(isStaff(viewer) ? [drillClipsVisibleTo(viewer)] : []),
      ],
    },
    select: { id: true, state: true, sizeBytes: true },
  });
  if (!clip) throw notFound('clip');
  return clip;
}

/**
 * Lets an announced clip take its bytes; answers whether they are stored already, which makes a repeat harmless.
 * A stored clip refuses a file of another size.
 */
export async function claimClip(
  viewer: Viewer,
  tx: Tx,
  id: ClipId,
  declared: { sizeBytes: number; type: string },
): Promise<{ isStored: boolean }> {
  // A sweep may just be noting that all of it is there: a claim beside it would open the clip again.
  await db(tx).$queryRaw`SELECT 1 FROM "Clip" WHERE id = ${id}::uuid FOR UPDATE`;
  const clip = await ownClip(viewer, tx, id);
  const isOpen = clip.state === 'expected' || clip.state === 'uploading' || clip.state === 'failed';
  if (!isOpen && Number(clip.sizeBytes) !== declared.sizeBytes) {
    throw new CagepostError('wrong-state', 'This clip is already stored. Add the other file as a new clip.');
  }
  if (!isOpen) return { isStored: true };
  await db(tx).clip.update({
    where: { id },
    data: {
      state: 'uploading',
      sizeBytes: declared.sizeBytes,
      declaredType: declared.type,
      failCode: null,
      failDetail: null,
    },
  });
  return { isStored: false };
}

/** Says at which rate a clip was taken, when the file left it open. By the sender's side or by staff. */
export async function setCaptureRate(viewer: Viewer, tx: Tx, id: ClipId, captureRate: number): Promise<void> {
  const clip = await db(tx).clip.findFirst({
    where: { AND: [{ id }, clipsVisibleTo(viewer)] },
    select: { id: true, lesson: { select: { startedById: true, thread: { select: { playerId: true } } } } },
  });
  if (!clip?.lesson) throw notFound('clip');
  const { playerId } = clip.lesson.thread;
  const isSender = playerId === viewer.personId || viewer.wards.some((ward) => ward === playerId);
  if (!isSender && !isStaff(viewer)) throw notFound('clip');
  await db(tx).clip.update({ where: { id }, data: { captureRate, rateIsSure: true } });
}
