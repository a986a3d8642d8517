import { isSameSecret, signText } from './signatures';

/** The address is the same for all pages drawn within this time, so that pictures are not fetched anew by each. */
const STEP_MS = 15 * 60 * 1000;
/** Long enough for an evening at one lesson; the session is checked at each request besides. */
const LIFE_MS = 3 * 60 * 60 * 1000;

export const MEDIA_PATH = '/api/media';

/** The folders of the storage that are served. */
export const MEDIA_FOLDERS = ['clips', 'breakdowns', 'remarks'] as const;
export type MediaFolder = (typeof MEDIA_FOLDERS)[number];

/** One file that is served: `<folder>/<id>/<file>` of the storage. */
export interface MediaFile {
  folder: MediaFolder;
  id: string;
  file: string;
}

const signed = (key: string, { folder, id, file }: MediaFile, personId: string, expires: number) =>
  signText(['media', folder, id, file, personId, expires].join('\n'), key).replace('hmac-sha256=', '');

/**
 * A same-origin address under which one person may read one file of a clip (`review.mp4`, `frames.json`), of a
 * breakdown or of a remark for three hours. `key` is a signing key of this installation.
 */
export const signMediaUrl = (key: string, of: MediaFile & { personId: string; now: Date }): string => {
  const expires = Math.ceil((of.now.getTime() + LIFE_MS) / STEP_MS) * STEP_MS;
  const signature = signed(key, of, of.personId, expires);
  const path = `${MEDIA_PATH}/${of.folder}/${of.id}/${encodeURIComponent(of.file)}`;
  return `${path}?u=${of.personId}&exp=${expires}&sig=${signature}`;
};

export interface MediaAddress extends MediaFile {
  /** For whom it was signed: the session has to be that person's. */
  personId: string;
}

/** What a signed address allows, or null when it is tampered with or too old. */
export const readMediaUrl = (key: string, rawUrl: string, now: Date): MediaAddress | null => {
  const url = new URL(rawUrl, 'http://this.invalid');
  const [folderName, id, name, ...rest] = url.pathname.slice(MEDIA_PATH.length + 1).split('/');
  const folder = MEDIA_FOLDERS.find((one) => one === folderName);
  const file = name === undefined ? '' : decodeURIComponent(name);
  const personId = url.searchParams.get('u') ?? '';
  const expires = Number(url.searchParams.get('exp'));
  const isWhole = url.pathname.startsWith(`${MEDIA_PATH}/`) && folder && id && file && rest.length === 0;
  if (!isWhole || !(expires > now.getTime())) return null;
  const wanted = signed(key, { folder, id, file }, personId, expires);
  return isSameSecret(url.searchParams.get('sig') ?? '', wanted) ? { folder, id, file, personId } : null;
};
