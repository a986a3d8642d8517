import type { ByteFile } from './byte-file';

// Boxes of MP4 and MOV files: ISO/IEC 14496-12, 4.2. MOV calls them atoms; the layout is the same.

export interface Box {
  type: string;
  start: number;
  /** First byte after the header. */
  body: number;
  /** First byte after the box, which may lie beyond the end of the file. */
  end: number;
}

/** Boxes between two places, in order. Stops where the bytes are no box any more. */
export function* boxesIn(file: ByteFile, from: number, to: number): Generator<Box> {
  let at = from;
  while (at + 8 <= to) {
    const head = file.read(at, 16);
    if (head.length < 8) return;
    const type = head.toString('latin1', 4, 8);
    if (!/^[\x20-\x7e\xa9]{4}$/.test(type)) return;
    let size = head.readUInt32BE(0);
    let body = at + 8;
    if (size === 1) {
      if (head.length < 16) return;
      size = Number(head.readBigUInt64BE(8));
      body = at + 16;
    } else if (size === 0) size = to - at;
    if (size < body - at) return;
    yield { type, start: at, body, end: at + size };
    at += size;
  }
}

/** The first box of the type between two places, or undefined. */
export function firstBox(file: ByteFile, type: string, from: number, to: number): Box | undefined {
  for (const box of boxesIn(file, from, to)) if (box.type === type) return box;
  return undefined;
}

/** True when the end of the file is missing: a box reaches beyond it, or there is no index. */
export function isIsoCutOff(file: ByteFile): boolean {
  let hasIndex = false;
  let at = 0;
  for (const box of boxesIn(file, 0, file.size)) {
    if (box.end > file.size) return true;
    hasIndex ||= box.type === 'moov' || box.type === 'moof';
    at = box.end;
  }
  // Junk in the middle is damage of another kind: the engine says what it makes of it.
  return !hasIndex && file.size - at < 8;
}
