import { CagepostError } from '@/lib/domain/shared/errors';
import type { Log, Storage } from '@/lib/workflows/ports';
import type { StoredClip, UploadClaims } from './claims';
import type { ClipAnswer } from './clip-router';
import { toldRefusal } from './refusal';

/**
 * Hands a stored clip on. When nobody wants it any more (the clip was removed while it travelled) its file goes
 * and the sender hears why; every other error is thrown, so that the host tries again.
 */
export const handOn = async (
  clip: StoredClip,
  ports: { claims: UploadClaims; storage: Storage; log: Log },
): Promise<ClipAnswer> => {
  try {
    await ports.claims.stored(clip);
    return { clipId: clip.clipId, md5: clip.md5 };
  } catch (error) {
    const isUnwanted =
      error instanceof CagepostError && (error.fault === 'not-found' || error.fault === 'wrong-state');
    if (!isUnwanted) {
      ports.log.error(
        { clipId: clip.clipId, err: error },
        'a stored clip could not be handed on; tried again later',
      );
      throw error;
    }
    await ports.storage.remove(clip.storageKey);
    const { fault, message } = toldRefusal(error);
    return { clipId: clip.clipId, fault, message };
  }
};
