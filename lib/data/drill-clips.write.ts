import type { DrillId } from '@/lib/domain/drills/drill';
import type { ClipShows } from '@/lib/domain/drills/drill-clip';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { ClipId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { stripMedia } from './strip-media';

/** A clip that is about to be sent for a drill, under the id that its sender's browser minted. */
export interface DrillClipInput {
  clipId: ClipId;
  drillId: DrillId;
  shows: ClipShows;
  /** As the browser read it in the file before it blanked that; null when it did not tell. */
  captureRate: number | null;
}

const retired = () =>
  new CagepostError(
    'wrong-state',
    'This drill was replaced or retired meanwhile. Your film is still on your device; open the page anew and add it there.',
  );
const comingAlready = () =>
  new CagepostError(
    'wrong-state',
    'A clip for this drill is on its way already. Wait for it, or take it away first. Your film is still on your device.',
  );

/**
 * Announces a clip for a drill of the viewer's program; the same one again changes nothing. Staff only. Refuses
 * `wrong-state` for a version that is offered no more, and while another clip is on its way to the same drill.
 */
export async function announceDrillClip(
  viewer: Viewer,
  tx: Tx,
  { clipId, drillId, shows, captureRate }: DrillClipInput,
  at: Date,
): Promise<void> {
  // Two who add one at once: the second waits here and sees the first.
  await db(tx).$queryRaw`SELECT 1 FROM "Drill" WHERE id = ${drillId}::uuid FOR UPDATE`;
  const drill = await db(tx).drill.findFirst({
    where: { id: drillId, programId: viewer.programId },
    select: { seriesId: true, retiredAt: true },
  });
  if (!isStaff(viewer) || !drill) throw notFound('drill');
  const known = await db(tx).clip.findUnique({
    where: { id: clipId },
    select: { drillId: true, uploadedById: true, removedAt: true },
  });
  if (known) {
    if (known.drillId === drillId && known.uploadedById === viewer.personId && !known.removedAt) return;
    throw notFound('clip');
  }
  if (drill.retiredAt) throw retired();
  const { seriesId } = drill;
  const coming = { removedAt: null, state: { not: 'ready' as const }, drill: { seriesId } };
  if ((await db(tx).clip.count({ where: coming })) > 0) throw comingAlready();
  await db(tx).clip.create({
    data: {
      id: clipId,
      drillId,
      shows,
      position: 0,
      uploadedById: viewer.personId,
      createdAt: at,
      ...(captureRate === null ? {} : { captureRate, rateIsSure: true }),
    },
  });
}

/**
 * Takes a clip of the library away, for every version and everybody who was given one; twice does no harm. Staff of its
 * program only.
 */
export async function takeAwayDrillClip(viewer: Viewer, tx: Tx, clipId: ClipId, at: Date): Promise<void> {
  const where = { id: clipId, drill: { programId: viewer.programId } };
  if (!isStaff(viewer) || (await db(tx).clip.count({ where })) === 0) throw notFound('clip');
  await stripMedia(tx, { clips: where, breakdowns: null }, at);
}
