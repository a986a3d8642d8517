import { readBytes } from './file-edits';
import { typeAt } from './iso-boxes';
import { scrubIso } from './scrub-iso';
import { scrubMatroska } from './scrub-matroska';

const ISO_STARTS = new Set(['ftyp', 'moov', 'mdat', 'wide', 'free', 'skip', 'pnot', 'uuid', 'meta', 'udta']);
const EBML = 0x1a45dfa3;

/** What left the file. `hits` counts the places where something was blanked. */
export interface ScrubbedFile {
  file: File;
  hits: number;
}

/**
 * Blanks where a clip was filmed (and with what) before anything leaves the phone: metadata, user data and timed
 * tracks of MP4 and MOV, tags and attachments of WebM and MKV. Length, frames, times and rotation stay as they are.
 * A file that it does not understand is answered unchanged; the server takes the place out of what it keeps besides.
 */
export const scrubLocation = async (file: File): Promise<ScrubbedFile> => {
  const head = await readBytes(file, 0, 8);
  if (head.byteLength < 8) return { file, hits: 0 };
  if (ISO_STARTS.has(typeAt(head, 4))) return scrubIso(file);
  return head.getUint32(0) === EBML ? scrubMatroska(file) : { file, hits: 0 };
};
