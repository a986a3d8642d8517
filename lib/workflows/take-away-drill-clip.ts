import { writeAudit } from '@/lib/data/audit.write';
import { takeAwayDrillClip as takeAway } from '@/lib/data/drill-clips.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import { clipFolder } from '@/lib/domain/privacy/files';
import type { ClipId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/**
 * Takes the clip of a drill away from everybody, at once, with its files. Twice does no harm; what the storage does not
 * remove now goes in the night.
 */
export async function takeAwayDrillClip(
  { clock, storage, log }: Pick<Ports, 'clock' | 'storage' | 'log'>,
  viewer: Viewer,
  clipId: ClipId,
): Promise<void> {
  await transaction(viewer, async (tx) => {
    await takeAway(viewer, tx, clipId, clock.now());
    await writeAudit(viewer, tx, { action: 'drill.clip-taken-away', subject: `clip:${clipId}` });
  });
  await storage
    .remove(clipFolder(clipId))
    .catch((error: unknown) =>
      log.error({ clipId, err: error }, 'a clip that has to go could not be removed'),
    );
}
