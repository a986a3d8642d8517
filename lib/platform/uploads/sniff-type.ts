import { fileTypeFromBuffer } from 'file-type';
import { acceptedType, isSameFamily, type AcceptedType } from '@/lib/domain/clips/accepted-types';
import { ClipRefusal } from './refusal';

/** So many bytes of the beginning decide what a file is. */
export const SNIFF_BYTES = 4100;

/**
 * The type that the first bytes of a file show. Throws a ClipRefusal: `no-picture` for sound, `not-a-video` for
 * anything else that is not accepted, `type-mismatch` when it was declared as another family of containers.
 */
export const sniffType = async (head: Uint8Array, declared: AcceptedType): Promise<AcceptedType> => {
  // A head that ends inside a box is no reason to fail: what cannot be told is not a video to us.
  const found = await fileTypeFromBuffer(head).catch(() => undefined);
  const type = found ? acceptedType(found.mime) : null;
  if (type === null)
    throw new ClipRefusal(found?.mime.startsWith('audio/') ? 'no-picture' : 'not-a-video', {
      found: found?.mime ?? 'unknown',
    });
  if (!isSameFamily(declared, type)) throw new ClipRefusal('type-mismatch', { found: type, declared });
  return type;
};
