import { claimClip } from '@/lib/data/clips.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { ClipId } from '@/lib/domain/shared/ids';

/**
 * Lets an announced clip take its bytes, or refuses: not the viewer's, or another file is stored there already.
 * Answers whether this one is.
 */
export const claimUpload = (
  viewer: Viewer,
  clipId: ClipId,
  declared: { sizeBytes: number; type: string },
): Promise<{ isStored: boolean }> => transaction(viewer, (tx) => claimClip(viewer, tx, clipId, declared));
