import type { System } from '@/lib/domain/people/viewer';
import type { ClipId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { putNextVersion } from './drill-version';
import type { Reached } from './staff-to-tell';
import { stripMedia } from './strip-media';

/**
 * The drill that a clip was sent for and who sent it, if they are still on the staff and have an address; null for clips of
 * lessons.
 */
export async function readDrillClipSide(
  _system: System,
  tx: Tx,
  clipId: ClipId,
): Promise<{ program: { id: string; name: string }; drillTitle: string; sender: Reached } | null> {
  const clip = await db(tx).clip.findUnique({
    where: { id: clipId },
    select: {
      uploadedById: true,
      drill: { select: { title: true, program: { select: { id: true, name: true } } } },
    },
  });
  if (!clip?.drill) return null;
  const { program, title } = clip.drill;
  const sender = await db(tx).person.findFirst({
    where: {
      id: clip.uploadedById,
      memberships: { some: { programId: program.id, role: { in: ['coach', 'lead'] } } },
    },
    select: { id: true, email: true },
  });
  return sender?.email
    ? { program, drillTitle: title, sender: { personId: sender.id, email: sender.email } }
    : null;
}

/**
 * A clip is ready: if it was sent for a drill it becomes a new version of it, so that nothing reaches a player who was
 * given the drill before, and no coach has to be reachable by them for that. `unwanted`: the drill is offered no more, and
 * the clip goes.
 */
export async function showOnDrill(
  _system: System,
  tx: Tx,
  clipId: ClipId,
  at: Date,
): Promise<'not-of-a-drill' | 'shown' | 'unwanted'> {
  const clip = await db(tx).clip.findUnique({
    where: { id: clipId },
    select: { uploadedById: true, drill: { select: { seriesId: true } } },
  });
  if (!clip?.drill) return 'not-of-a-drill';
  const { seriesId } = clip.drill;
  // A coach may be writing the next version just now: whoever comes second starts from what the first wrote.
  await db(tx).$queryRaw`SELECT 1 FROM "Drill" WHERE "seriesId" = ${seriesId}::uuid FOR UPDATE`;
  const living = await db(tx).drill.findFirst({ where: { seriesId, retiredAt: null }, select: { id: true } });
  if (!living) {
    await stripMedia(tx, { clips: { id: clipId }, breakdowns: null }, at);
    return 'unwanted';
  }
  await putNextVersion(tx, living.id, { clipId }, { byId: clip.uploadedById, at });
  return 'shown';
}
