import { Decoder, Demuxer } from 'node-av/api';

/** The light of a decoded picture as it is stored (not turned): one byte a pixel, row after row. */
export interface Light {
  width: number;
  height: number;
  at: (x: number, y: number) => number;
}

// The engine's streams wait for ever without it on Node 20.
Promise.withResolvers ??= function withResolvers<T>() {
  let resolve: PromiseWithResolvers<T>['resolve'] = () => undefined;
  let reject: PromiseWithResolvers<T>['reject'] = () => undefined;
  const promise = new Promise<T>((yes, no) => {
    resolve = yes;
    reject = no;
  });
  return { promise, resolve, reject };
};

/** Decodes a file's pictures in display order and keeps the light of the wanted ones, by index; `count` is of all. */
export async function decodeLight(
  file: string,
  wanted: ReadonlySet<number>,
): Promise<{ count: number; pictures: Map<number, Light> }> {
  const demuxer = await Demuxer.open(file);
  const track = demuxer.video();
  if (!track) throw new Error(`${file} has no picture.`);
  const decoder = await Decoder.create(track);
  const pictures = new Map<number, Light>();
  let count = 0;
  for await (const frame of decoder.frames(demuxer.packets())) {
    if (!frame) continue;
    if (wanted.has(count)) {
      const { width, height } = frame;
      // Planar: the light comes first.
      const light = Buffer.from(frame.toBuffer().subarray(0, width * height));
      pictures.set(count, { width, height, at: (x, y) => light[Math.round(y) * width + Math.round(x)] ?? 0 });
    }
    frame.free();
    count += 1;
  }
  decoder.close();
  await demuxer.close();
  return { count, pictures };
}
