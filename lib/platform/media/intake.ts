import { fileTypeFromBuffer } from 'file-type';
import {
  ACCEPTED_TYPES,
  acceptedType,
  isSameFamily,
  type AcceptedType,
} from '@/lib/domain/clips/accepted-types';
import { openBytes } from './byte-file';
import { isMatroskaCutOff } from './ebml-elements';
import { isIsoCutOff } from './iso-boxes';
import { MediaFault } from './media-fault';

/** So many bytes of the beginning decide what a file is. */
const HEAD_BYTES = 4100;

/** The container family of an accepted type. */
export type Family = (typeof ACCEPTED_TYPES)[AcceptedType]['family'];

/**
 * Looks at a stored file before the engine does: size, what its first bytes say against what was declared (an empty
 * declaration or `application/octet-stream` declares nothing), and whether its end is there. Throws a MediaFault.
 */
export async function inspectFile(path: string, declaredType: string, maxBytes: number): Promise<Family> {
  const file = openBytes(path, 'read');
  try {
    if (file.size === 0) throw new MediaFault('empty', 'no bytes');
    if (file.size > maxBytes) throw new MediaFault('too-large', `${file.size} bytes of at most ${maxBytes}`);
    const found = await fileTypeFromBuffer(file.read(0, HEAD_BYTES)).catch(() => undefined);
    if (found?.mime.startsWith('audio/')) throw new MediaFault('no-picture', found.mime);
    const type = found && acceptedType(found.mime);
    if (!type) throw new MediaFault('not-a-video', `the bytes look like ${found?.mime ?? 'nothing known'}`);

    const isDeclared = declaredType !== '' && declaredType !== 'application/octet-stream';
    const declared = acceptedType(declaredType);
    if (isDeclared && (!declared || !isSameFamily(declared, type)))
      throw new MediaFault('type-mismatch', `declared ${declaredType}, the bytes look like ${type}`);

    const { family } = ACCEPTED_TYPES[type];
    if (family === 'iso' ? isIsoCutOff(file) : isMatroskaCutOff(file))
      throw new MediaFault('cut-off', `the container names more than the ${file.size} bytes there are`);
    return family;
  } finally {
    file.close();
  }
}
