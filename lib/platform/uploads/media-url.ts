import { isSameSecret, signText } from './signatures';

/** The address is the same for all pages drawn within this time, so that pictures are not fetched anew by each. */
const STEP_MS = 15 * 60 * 1000;
/** Long enough for an evening at one lesson; the session is checked at each request besides. */
const LIFE_MS = 3 * 60 * 60 * 1000;

export const MEDIA_PATH = '/api/media';

const signed = (key: string, clipId: string, file: string, personId: string, expires: number) =>
  signText(['media', clipId, file, personId, expires].join('\n'), key).replace('hmac-sha256=', '');

/**
 * A same-origin address under which one person may read one file of a clip (`review.mp4`, `poster.jpg`,
 * `strip.jpg`, `frames.json`) for three hours. `key` is a signing key of this installation.
 */
export const signMediaUrl = (
  key: string,
  of: { clipId: string; file: string; personId: string; now: Date },
): string => {
  const expires = Math.ceil((of.now.getTime() + LIFE_MS) / STEP_MS) * STEP_MS;
  const signature = signed(key, of.clipId, of.file, of.personId, expires);
  return `${MEDIA_PATH}/${of.clipId}/${encodeURIComponent(of.file)}?u=${of.personId}&exp=${expires}&sig=${signature}`;
};

export interface MediaAddress {
  clipId: string;
  file: string;
  /** For whom it was signed: the session has to be that person's. */
  personId: string;
}

/** What a signed address allows, or null when it is tampered with or too old. */
export const readMediaUrl = (key: string, rawUrl: string, now: Date): MediaAddress | null => {
  const url = new URL(rawUrl, 'http://this.invalid');
  const [clipId, name, ...rest] = url.pathname.slice(MEDIA_PATH.length + 1).split('/');
  const file = name === undefined ? '' : decodeURIComponent(name);
  const personId = url.searchParams.get('u') ?? '';
  const expires = Number(url.searchParams.get('exp'));
  const isWhole = url.pathname.startsWith(`${MEDIA_PATH}/`) && clipId && file && rest.length === 0;
  if (!isWhole || !(expires > now.getTime())) return null;
  const wanted = signed(key, clipId, file, personId, expires);
  return isSameSecret(url.searchParams.get('sig') ?? '', wanted) ? { clipId, file, personId } : null;
};
