import { applyEdits, readBytes, type FileEdit } from './file-edits';
import { boxAt, boxesIn, boxUnder, chunksOf, typeAt, type Box } from './iso-boxes';

// Where phones and cameras note the place: metadata with keys, user data (©xyz, loci), extensions (XMP), Windows tags.
const BLANKED = new Set(['meta', 'udta', 'uuid', 'Xtra']);
const CONTAINERS = new Set(['trak', 'mdia', 'minf']);
/** A larger index is no phone's. */
const LARGEST_INDEX = 64 * 1024 * 1024;

const FREE = new Uint8Array([0x66, 0x72, 0x65, 0x65]); // 'free': a box that every reader skips

/** Turns a box inside the view into free space of the same length. */
const blank = (view: DataView<ArrayBuffer>, box: Box) => {
  const bytes = new Uint8Array(view.buffer);
  bytes.set(FREE, view.byteOffset + box.start + 4);
  bytes.fill(0, view.byteOffset + box.start + box.headerBytes, view.byteOffset + box.end);
};

/** True for a track that is neither picture nor sound: timed metadata (where the camera was, second by second), text. */
const isSideTrack = (view: DataView, track: Box): boolean => {
  const handler = boxUnder(view, track, 'mdia', 'hdlr');
  if (!handler || handler.end < handler.start + handler.headerBytes + 12) return false;
  const kind = typeAt(view, handler.start + handler.headerBytes + 8);
  return kind !== 'vide' && kind !== 'soun';
};

/** Blanks what tells a place inside a `moov` box; answers the stretches of the file that its side tracks fill. */
const scrubIndex = (
  view: DataView<ArrayBuffer>,
  start: number,
  end: number,
): { hits: number; samples: FileEdit[] } => {
  let hits = 0;
  const samples: FileEdit[] = [];
  for (const box of boxesIn(view, start, end)) {
    const isSide = box.type === 'trak' && isSideTrack(view, box);
    if (isSide)
      for (const chunk of chunksOf(view, box))
        samples.push({ start: chunk.start, bytes: new Uint8Array(chunk.length) });
    if (isSide || BLANKED.has(box.type)) {
      blank(view, box);
      hits++;
    } else if (CONTAINERS.has(box.type)) {
      const inner = scrubIndex(view, box.start + box.headerBytes, box.end);
      hits += inner.hits;
      samples.push(...inner.samples);
    }
  }
  return { hits, samples };
};

/** Takes the place out of an MP4 or MOV. Answers the same file when there was nothing to take out. */
export const scrubIso = async (file: File): Promise<{ file: File; hits: number }> => {
  const edits: FileEdit[] = [];
  let hits = 0;
  for (let at = 0; at + 8 <= file.size;) {
    const box = boxAt(await readBytes(file, at, 16), 0, file.size - at);
    if (!box || at + box.end > file.size) break;
    if (box.type === 'moov' && box.end <= LARGEST_INDEX) {
      const view = await readBytes(file, at, box.end);
      const found = scrubIndex(view, box.headerBytes, box.end);
      if (found.hits > 0) edits.push({ start: at, bytes: new Uint8Array(view.buffer) });
      // A sample table that lies about its places must not blank the index or reach behind the end.
      edits.push(...found.samples.filter((edit) => edit.start + edit.bytes.length <= file.size));
      hits += found.hits;
    } else if (BLANKED.has(box.type) && box.end <= LARGEST_INDEX) {
      const view = await readBytes(file, at, box.end);
      blank(view, box);
      edits.push({ start: at, bytes: new Uint8Array(view.buffer) });
      hits++;
    }
    at += box.end;
  }
  return { file: edits.length > 0 ? applyEdits(file, edits) : file, hits };
};
