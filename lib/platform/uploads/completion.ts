import { CagepostError, type Fault } from '@/lib/domain/shared/errors';
import type { Log, Storage } from '@/lib/workflows/ports';
import { toldRefusal } from './refusal';
import type { UploadAnswer } from './upload-router';
import type { StoredUpload, UploadSort } from './upload-sort';

const UNWANTED: readonly Fault[] = ['not-found', 'wrong-state', 'safeguarding'];

/**
 * Hands a stored upload on. When nobody wants it any more (the clip was removed while it travelled) its file goes
 * and the sender hears why; every other error is thrown, so that the host tries again.
 */
export const handOn = async (
  upload: StoredUpload,
  on: { sort: UploadSort; storage: Storage; log: Log },
): Promise<UploadAnswer> => {
  const { id, subject } = upload;
  try {
    await on.sort.stored(upload);
    return { id, ...subject, md5: upload.md5 };
  } catch (error) {
    if (!(error instanceof CagepostError && UNWANTED.includes(error.fault))) {
      on.log.error({ upload: id, err: error }, 'a stored upload could not be handed on; tried again later');
      throw error;
    }
    await on.storage.remove(upload.storageKey);
    const { fault, message } = toldRefusal(error);
    return { id, ...subject, fault, message };
  }
};
