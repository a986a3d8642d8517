/** A file with everything about somebody can be fetched for so long. */
export const EXPORT_HOURS = 24;

/** One part holds at most so many bytes: plain ZIP archives end at 4 GiB, and phones do not like larger files. */
export const PART_BYTES = 3 * 1024 ** 3;

/** A single file that is larger does not fit into a plain ZIP archive. */
export const LARGEST_FILE = 4 * 1000 ** 3;

export const PERSONAL_EXPORT_STATES = ['waiting', 'working', 'ready', 'failed', 'expired'] as const;
export type PersonalExportState = (typeof PERSONAL_EXPORT_STATES)[number];

/** A copy of everything, as whoever asked for it sees it. */
export interface PersonalExportFacts {
  id: string;
  state: PersonalExportState;
  parts: number;
  sizeBytes: number;
  failReason: string | null;
  at: Date;
  expiresAt: Date | null;
}

/** A file that goes into the copy: its name in it, where it lies, how large it is. */
export interface PackedFile {
  name: string;
  key: string;
  bytes: number;
}

/**
 * Cuts the files into parts of at most `most` bytes, in their order; `head` bytes of the first part are taken by the
 * pages. A single file that is larger is a part of its own. There is always a first part.
 */
export function cutIntoParts<T extends { bytes: number }>(
  files: readonly T[],
  head: number,
  most = PART_BYTES,
): T[][] {
  let part: T[] = [];
  const parts = [part];
  let room = most - head;
  for (const file of files) {
    const isFull = file.bytes > room && (parts.length === 1 || part.length > 0);
    if (isFull) {
      part = [];
      parts.push(part);
      room = most;
    }
    part.push(file);
    room -= file.bytes;
  }
  return parts;
}

/** Words as part of a file name that every system takes: letters, digits and hyphens, at most 40. */
export const fileWord = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/\p{M}+/gu, '')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 40)
    .toLowerCase() || 'file';

/** The name under which a part is downloaded. */
export const downloadName = (personName: string, part: number, parts: number): string =>
  parts === 1
    ? `everything-about-${fileWord(personName)}.zip`
    : `everything-about-${fileWord(personName)}-${part}-of-${parts}.zip`;

/** Bytes for people: "3.2 MB". Decimal units, as file managers show them. */
export const sizeInWords = (bytes: number): string => {
  const units = ['bytes', 'kB', 'MB', 'GB'] as const;
  let value = bytes;
  let at = 0;
  while (value >= 1000 && at < units.length - 1) {
    value /= 1000;
    at += 1;
  }
  return at === 0 ? `${value} bytes` : `${value.toFixed(value < 10 ? 1 : 0)} ${units[at]}`;
};
