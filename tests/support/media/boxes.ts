// Surgery on the boxes of MP4 and MOV files (ISO/IEC 14496-12), for what phones write and the engine's muxer does not.

interface Box {
  type: string;
  start: number;
  body: number;
  end: number;
}

function* boxesIn(bytes: Buffer, from: number, to: number): Generator<Box> {
  let at = from;
  while (at + 8 <= to) {
    let size = bytes.readUInt32BE(at);
    let head = 8;
    if (size === 1) {
      size = Number(bytes.readBigUInt64BE(at + 8));
      head = 16;
    }
    if (size === 0) size = to - at;
    yield { type: bytes.toString('latin1', at + 4, at + 8), start: at, body: at + head, end: at + size };
    at += size;
  }
}

function find(bytes: Buffer, path: string[], from = 0, to = bytes.length): Box[] {
  const [wanted, ...rest] = path;
  return [...boxesIn(bytes, from, to)]
    .filter((box) => box.type === wanted)
    .flatMap((box) => (rest.length === 0 ? [box] : find(bytes, rest, box.body, box.end)));
}

/** Shortens what the edit list of the picture track shows to the given seconds, as trimming on a phone does. */
export function cutEditList(file: Buffer, seconds: number): Buffer {
  const [header] = find(file, ['moov', 'mvhd']);
  if (!header) throw new Error('No movie header.');
  const isLong = file[header.body] === 1;
  const timescale = file.readUInt32BE(header.body + (isLong ? 20 : 12));
  for (const track of find(file, ['moov', 'trak'])) {
    const [handler] = find(file, ['mdia', 'hdlr'], track.body, track.end);
    if (!handler || file.toString('latin1', handler.body + 8, handler.body + 12) !== 'vide') continue;
    const [list] = find(file, ['edts', 'elst'], track.body, track.end);
    if (!list) throw new Error('No edit list to shorten.');
    const count = file.readUInt32BE(list.body + 4);
    const isWide = file[list.body] === 1;
    const last = list.body + 8 + (count - 1) * (isWide ? 20 : 12);
    const duration = Math.round(seconds * timescale);
    if (isWide) file.writeBigUInt64BE(BigInt(duration), last);
    else file.writeUInt32BE(duration, last);
  }
  return file;
}

const box = (type: string, body: Buffer) => {
  const head = Buffer.alloc(8);
  head.writeUInt32BE(body.length + 8);
  head.write(type, 4, 'latin1');
  return Buffer.concat([head, body]);
};

/** Puts the coordinates into `udta/©xyz` of a file whose index is its last box (nothing else moves). */
export function addUserData(file: Buffer, location: string): Buffer {
  const top = [...boxesIn(file, 0, file.length)];
  const last = top.at(-1);
  if (last?.type !== 'moov') throw new Error('The index is not at the end.');
  const text = Buffer.from(location, 'latin1');
  const prefix = Buffer.alloc(4);
  prefix.writeUInt16BE(text.length, 0);
  prefix.writeUInt16BE(0x15c7, 2); // language "und", ISO 639-2 packed
  const added = box('udta', box('\u00a9xyz', Buffer.concat([prefix, text])));
  file.writeUInt32BE(last.end - last.start + added.length, last.start);
  return Buffer.concat([file, added]);
}
