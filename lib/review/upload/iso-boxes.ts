/** One box of an ISO base media file (ISO/IEC 14496-12, 4.2): its place inside the view that it was read from. */
export interface Box {
  type: string;
  start: number;
  /** 8, or 16 with a 64-bit size. */
  headerBytes: number;
  end: number;
}

export const typeAt = (view: DataView, at: number): string =>
  String.fromCharCode(view.getUint8(at), view.getUint8(at + 1), view.getUint8(at + 2), view.getUint8(at + 3));

/** Reads the head of a box at `at`; `end` bounds a box that reaches to the end (size 0). Null when it is none. */
export const boxAt = (view: DataView, at: number, end: number): Box | null => {
  if (at + 8 > view.byteLength) return null;
  const size32 = view.getUint32(at);
  const type = typeAt(view, at + 4);
  if (size32 === 1) {
    if (at + 16 > view.byteLength) return null;
    const size = Number(view.getBigUint64(at + 8));
    return size < 16 ? null : { type, start: at, headerBytes: 16, end: at + size };
  }
  const size = size32 === 0 ? end - at : size32;
  return size < 8 ? null : { type, start: at, headerBytes: 8, end: at + size };
};

/** The boxes of a stretch, one after the other; stops at the first that does not fit. */
export function* boxesIn(view: DataView, start: number, end: number): Generator<Box> {
  for (let at = start; at + 8 <= end;) {
    const box = boxAt(view, at, end);
    if (!box || box.end > end) return;
    yield box;
    at = box.end;
  }
}

/** The first box of that path below a box, or null. */
export const boxUnder = (view: DataView, parent: Box, ...path: string[]): Box | null => {
  let here: Box | undefined = parent;
  for (const type of path) {
    here = [...boxesIn(view, here.start + here.headerBytes, here.end)].find((box) => box.type === type);
    if (!here) return null;
  }
  return here;
};

export interface SampleRange {
  start: number;
  length: number;
}

/** Where the chunks of a track lie in the file, from its sample table (ISO/IEC 14496-12, 8.7). */
export const chunksOf = (view: DataView, track: Box): SampleRange[] => {
  const table = boxUnder(view, track, 'mdia', 'minf', 'stbl');
  const sizes = table && boxUnder(view, table, 'stsz');
  const runs = table && boxUnder(view, table, 'stsc');
  const short = table && boxUnder(view, table, 'stco');
  const places = short ?? (table && boxUnder(view, table, 'co64'));
  if (!sizes || !runs || !places) return [];
  const field = (box: Box, index: number) => view.getUint32(box.start + box.headerBytes + 4 + 4 * index);
  const sizeOf = (sample: number) => field(sizes, 0) || field(sizes, 2 + sample);
  const placeOf = (chunk: number) =>
    short
      ? field(short, 1 + chunk)
      : Number(view.getBigUint64(places.start + places.headerBytes + 8 + 8 * chunk));
  const chunks: SampleRange[] = [];
  let run = 0;
  let sample = 0;
  for (let chunk = 0; chunk < field(places, 0); chunk++) {
    while (run + 1 < field(runs, 0) && field(runs, 1 + 3 * (run + 1)) <= chunk + 1) run++;
    let length = 0;
    for (let left = field(runs, 2 + 3 * run); left > 0 && sample < field(sizes, 1); left--)
      length += sizeOf(sample++);
    chunks.push({ start: placeOf(chunk), length });
  }
  return chunks;
};
