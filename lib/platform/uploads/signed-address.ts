import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import { isSameSecret, signText } from './signatures';
import { uploadIdOf } from './upload-sort';

/** What the embedded ingest signs with, and the address it signs for (never contacted, never shown). */
export interface EmbeddedHost {
  apiKey: string;
  appId: string;
  /** The canonical address of the ingest; its path is the one that browsers use. */
  ingestUrl: string;
}

export interface SignedAddress {
  fileKey: string;
  /** See `uploadIdOf`. */
  id: string;
  sizeBytes: number;
}

/**
 * Reads an address that the SDK presigned: `/{path}/{fileKey}?expires=…&x-ut-…&signature=…`. The signature covers
 * everything before it. Tampered addresses throw `not-found`, old ones `wrong-state`.
 */
export const readSignedAddress = (rawUrl: string, host: EmbeddedHost, now: Date): SignedAddress => {
  const cut = rawUrl.indexOf('?');
  const fileKey = rawUrl.slice(rawUrl.lastIndexOf('/', cut) + 1, cut);
  const [query = '', signature = ''] = rawUrl.slice(cut).split('&signature=');
  const wanted = signText(`${host.ingestUrl}/${fileKey}${query}`, host.apiKey);
  if (cut < 0 || !isSameSecret(decoded(signature), wanted)) throw notFound('upload');
  const parameters = new URLSearchParams(query);
  // The SDK encodes each value before it encodes the query.
  const value = (name: string) => decoded(parameters.get(name) ?? '');
  if (!(Number(value('expires')) > now.getTime()))
    throw new CagepostError(
      'wrong-state',
      'This upload waited too long to start. What was sent so far is kept. It goes on by itself.',
    );
  const id = uploadIdOf(value('x-ut-custom-id'));
  if (value('x-ut-identifier') !== host.appId || !id) throw notFound('upload');
  return { fileKey, id, sizeBytes: Number(value('x-ut-file-size')) };
};

const decoded = (text: string): string => {
  try {
    return decodeURIComponent(text);
  } catch {
    return '';
  }
};
