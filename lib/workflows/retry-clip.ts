import { writeAudit } from '@/lib/data/audit.write';
import { askToTryAgain } from '@/lib/data/clip-retry.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { ClipId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/**
 * Asks for another try at preparing a failed clip whose original is kept, for the sender's side or staff. Throws
 * `not-found` or `wrong-state`; then nothing has changed.
 */
export const retryClip = ({ queue }: Pick<Ports, 'queue'>, viewer: Viewer, clipId: ClipId): Promise<void> =>
  transaction(viewer, async (tx) => {
    await askToTryAgain(viewer, tx, clipId);
    await queue.prepareClip(clipId, tx);
    await writeAudit(viewer, tx, { action: 'clip.retried', subject: `clip:${clipId}` });
  });
