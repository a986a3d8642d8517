import { paintCounter, type Pixels } from './counter';

/** Draws one frame in display order: RGBA pixels of the asked size, row by row (a canvas' ImageData fits). */
export type Painter = (
  frame: number,
  size: { width: number; height: number },
) => Uint8Array | Uint8ClampedArray;

/** A whole picture that only carries its frame number. */
export const countingPainter: Painter = (frame, { width, height }) => {
  const pixels: Pixels = { data: new Uint8Array(width * height * 4), width, height };
  paintCounter(pixels, frame);
  return pixels.data;
};

/** The counter painted so that it stands upright after the given clockwise turn. */
export const turnedCounter =
  (rotation: 90 | 180 | 270): Painter =>
  (frame, { width, height }) => {
    const isQuarter = rotation !== 180;
    const upright: Pixels = {
      width: isQuarter ? height : width,
      height: isQuarter ? width : height,
      data: new Uint8Array(width * height * 4),
    };
    paintCounter(upright, frame);
    const coded = new Uint8Array(width * height * 4);
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        const [ux, uy] =
          rotation === 90
            ? [height - 1 - y, x]
            : rotation === 180
              ? [width - 1 - x, height - 1 - y]
              : [y, width - 1 - x];
        const from = (uy * upright.width + ux) * 4;
        coded.set(upright.data.subarray(from, from + 4), (y * width + x) * 4);
      }
    return coded;
  };
