import { writeAudit } from '@/lib/data/audit.write';
import { setCaptureRate as keepRate } from '@/lib/data/clips.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { ClipId } from '@/lib/domain/shared/ids';

/** Says at how many pictures a second a clip was taken. */
export async function setCaptureRate(viewer: Viewer, clipId: ClipId, captureRate: number): Promise<void> {
  if (!(captureRate >= 1 && captureRate <= 1000)) {
    throw new CagepostError('invalid', 'Pictures a second: a number from 1 to 1000.');
  }
  await transaction(viewer, async (tx) => {
    await keepRate(viewer, tx, clipId, captureRate);
    await writeAudit(viewer, tx, { action: 'clip.rate', subject: `clip:${clipId}`, data: { captureRate } });
  });
}
