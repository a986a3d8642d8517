import { constants, copyFileSync } from 'node:fs';
import { openBytes, type ByteFile } from './byte-file';
import { EBML_IDS, elementsIn } from './ebml-elements';
import type { Family } from './intake';
import { boxesIn, firstBox, type Box } from './iso-boxes';

// Phones write where they were into user data (`udta/©xyz`), metadata boxes (`meta`, ISO 6709 keys), XMP (`uuid`) and
// timed tracks. All of these are blanked where they stand: no other byte moves, so that pictures, sound, timestamps,
// edit lists and rotation cannot change.

interface Blank {
  start: number;
  end: number;
  /** A whole box or element keeps the file walkable as free space; bare bytes are only zeroed. */
  as: 'box' | 'element' | 'bytes';
}

const BLANKED = new Set(['udta', 'meta', 'uuid']);
const ENTERED = new Set(['moov', 'trak', 'mdia', 'minf', 'moof', 'traf', 'mvex']);
const SAMPLES_AT_MOST = 2_000_000;

const isZero = (bytes: Buffer) => bytes.every((byte) => byte === 0);

function hasContent(file: ByteFile, from: number, to: number): boolean {
  for (let at = from; at < to; at += 65_536)
    if (!isZero(file.read(at, Math.min(65_536, to - at)))) return true;
  return false;
}

/** Where the samples of a track lie, by its sample tables (ISO/IEC 14496-12, 8.7). */
function* samplesOf(file: ByteFile, table: Box): Generator<Blank> {
  const body = (type: string) => {
    const box = firstBox(file, type, table.body, table.end);
    return box && file.read(box.body, Math.min(box.end - box.body, 64 * 1024 * 1024));
  };
  const sizes = body('stsz');
  const runs = body('stsc');
  const narrow = body('stco');
  const wide = narrow ? undefined : body('co64');
  const offsets = narrow ?? wide;
  if (!sizes || !runs || !offsets) return;
  const fixed = sizes.readUInt32BE(4);
  const count = sizes.readUInt32BE(8);
  const chunks = offsets.readUInt32BE(4);
  const runCount = runs.readUInt32BE(4);
  if (count > SAMPLES_AT_MOST || chunks > SAMPLES_AT_MOST)
    throw new Error('more samples than a clip can have');
  let sample = 0;
  let run = 0;
  for (let chunk = 0; chunk < chunks && sample < count; chunk++) {
    if (run + 1 < runCount && runs.readUInt32BE(8 + (run + 1) * 12) <= chunk + 1) run++;
    const perChunk = runs.readUInt32BE(8 + run * 12 + 4);
    let at = wide ? Number(wide.readBigUInt64BE(8 + chunk * 8)) : offsets.readUInt32BE(8 + chunk * 4);
    for (let i = 0; i < perChunk && sample < count; i++, sample++) {
      const size = fixed || sizes.readUInt32BE(12 + sample * 4);
      yield { start: at, end: at + size, as: 'bytes' };
      at += size;
    }
  }
}

function* blanksOfTrack(file: ByteFile, track: Box): Generator<Blank> {
  const media = firstBox(file, 'mdia', track.body, track.end);
  const handler = media && firstBox(file, 'hdlr', media.body, media.end);
  const kind = handler && file.read(handler.body + 8, 4).toString('latin1');
  if (!media || !kind || kind === 'vide' || kind === 'soun') {
    yield* blanksInBoxes(file, track.body, track.end);
    return;
  }
  const info = firstBox(file, 'minf', media.body, media.end);
  const table = info && firstBox(file, 'stbl', info.body, info.end);
  if (table) yield* samplesOf(file, table);
  yield { start: track.start, end: track.end, as: 'box' };
}

function* blanksInBoxes(file: ByteFile, from: number, to: number): Generator<Blank> {
  for (const box of boxesIn(file, from, to)) {
    if (box.end > to) throw new Error(`the box ${box.type} is larger than what holds it`);
    if (BLANKED.has(box.type)) {
      if (hasContent(file, box.body, box.end)) yield { start: box.start, end: box.end, as: 'box' };
    } else if (box.type === 'trak') yield* blanksOfTrack(file, box);
    else if (ENTERED.has(box.type)) yield* blanksInBoxes(file, box.body, box.end);
  }
}

function* blanksInElements(file: ByteFile): Generator<Blank> {
  for (const element of elementsIn(file, 0, file.size)) {
    if (element.id !== EBML_IDS.segment) continue;
    for (const child of elementsIn(file, element.body, element.end ?? file.size))
      if ((child.id === EBML_IDS.tags || child.id === EBML_IDS.attachments) && child.end !== null)
        yield { start: child.start, end: child.end, as: 'element' };
  }
}

function zero(file: ByteFile, from: number, to: number): void {
  const none = Buffer.alloc(65_536);
  for (let at = from; at < to; at += none.length)
    file.write(at, none.subarray(0, Math.min(none.length, to - at)));
}

function blank(file: ByteFile, { start, end, as }: Blank): void {
  if (start < 0 || end > file.size || end < start) throw new Error('a sample lies outside the file');
  if (as === 'bytes') zero(file, start, end);
  else if (as === 'box') {
    const isWide = file.read(start, 4).readUInt32BE(0) === 1;
    file.write(start + 4, Buffer.from('free'));
    zero(file, start + (isWide ? 16 : 8), end);
  } else {
    // Void (RFC 8794, 11.3.2) over the whole element, with a size of 8 bytes: identifiers here have 4.
    const length = end - start;
    const head = length >= 9 ? Buffer.alloc(9) : Buffer.from([0xec, 0x80 | (length - 2)]);
    if (length >= 9) {
      head.writeBigUInt64BE(BigInt(length - 9) | (1n << 56n), 1);
      head[0] = 0xec;
    }
    file.write(start, head);
    zero(file, start + head.length, end);
  }
}

/**
 * Takes the location out of an original: answers `clean` when there is nothing to take out, else writes a copy without
 * it to `copyTo` and answers `wiped`; `aside` when the file cannot be searched to its end.
 */
export function wipeLocation(original: string, family: Family, copyTo: string): 'clean' | 'wiped' | 'aside' {
  const file = openBytes(original, 'read');
  let blanks: Blank[];
  try {
    blanks = [...(family === 'iso' ? blanksInBoxes(file, 0, file.size) : blanksInElements(file))];
  } catch {
    return 'aside';
  } finally {
    file.close();
  }
  if (blanks.length === 0) return 'clean';
  copyFileSync(original, copyTo, constants.COPYFILE_FICLONE);
  const copy = openBytes(copyTo, 'write');
  try {
    for (const one of blanks) blank(copy, one);
    return 'wiped';
  } catch {
    return 'aside';
  } finally {
    copy.close();
  }
}
