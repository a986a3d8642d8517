import { writeAudit } from '@/lib/data/audit.write';
import { refuseClip, storeClip } from '@/lib/data/clips.write';
import { transaction } from '@/lib/data/transaction';
import type { ClipFault } from '@/lib/domain/clips/clip';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { ClipId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Notes that a clip is stored and asks for its preparing, in one transaction. A repeat changes nothing. */
export const finishUpload = (
  { queue }: Pick<Ports, 'queue'>,
  viewer: Viewer,
  clipId: ClipId,
  facts: { storageKey: string; sizeBytes: number; md5: string },
): Promise<void> =>
  transaction(viewer, async (tx) => {
    if (!(await storeClip(viewer, tx, clipId, facts))) return;
    await queue.prepareClip(clipId, tx);
    await writeAudit(viewer, tx, { action: 'clip.stored', subject: `clip:${clipId}` });
  });

/** Notes why the bytes of a clip were refused. */
export const refuseUpload = (viewer: Viewer, clipId: ClipId, fault: ClipFault): Promise<void> =>
  refuseClip(viewer, clipId, fault);
