import { Decoder, Demuxer } from 'node-av/api';

/** A decoded picture as it is stored (not turned). */
export interface Picture {
  width: number;
  height: number;
  /** Light and the two colour differences of a pixel (Y, Cb, Cr), 0 to 255. */
  at: (x: number, y: number) => readonly [number, number, number];
}

// The engine's streams wait for ever without it on Node 20.
if (!('withResolvers' in Promise)) {
  Object.assign(Promise, {
    withResolvers() {
      const parts: { resolve?: unknown; reject?: unknown } = {};
      const promise = new Promise((resolve, reject) => Object.assign(parts, { resolve, reject }));
      return { promise, ...parts };
    },
  });
}

/** Decodes a file's pictures in display order and keeps the wanted ones, by index; `count` is of all. */
export async function decodePictures(
  file: string,
  wanted: ReadonlySet<number>,
): Promise<{ count: number; pictures: Map<number, Picture> }> {
  const demuxer = await Demuxer.open(file);
  const track = demuxer.video();
  if (!track) throw new Error(`${file} has no picture.`);
  const decoder = await Decoder.create(track);
  const pictures = new Map<number, Picture>();
  let count = 0;
  for await (const frame of decoder.frames(demuxer.packets())) {
    if (!frame) continue;
    if (wanted.has(count)) pictures.set(count, pictureOf(frame.width, frame.height, frame.toBuffer()));
    frame.free();
    count += 1;
  }
  decoder.close();
  await demuxer.close();
  return { count, pictures };
}

// Planar 4:2:0: all light first, then each colour difference at half the size.
function pictureOf(width: number, height: number, planes: Buffer): Picture {
  const bytes = Buffer.from(planes);
  const half = width / 2;
  const light = width * height;
  return {
    width,
    height,
    at: (x, y) => {
      const colour = Math.floor(y / 2) * half + Math.floor(x / 2);
      return [
        bytes[Math.round(y) * width + Math.round(x)] ?? 0,
        bytes[light + colour] ?? 0,
        bytes[light + half * (height / 2) + colour] ?? 0,
      ];
    },
  };
}
