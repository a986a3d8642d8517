import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import type { Pixel } from '../marks/geometry';
import type { Sighting } from './fit-camera';

/** Root mean square distances of pixels from their middle: along their longest direction, and across it. */
export const spreadOf = (pixels: readonly Pixel[]): { along: number; across: number } => {
  const n = pixels.length;
  const mx = pixels.reduce((sum, p) => sum + p[0], 0) / n;
  const my = pixels.reduce((sum, p) => sum + p[1], 0) / n;
  const mean = (f: (x: number, y: number) => number) =>
    pixels.reduce((sum, p) => sum + f(p[0] - mx, p[1] - my), 0) / n;
  const xy = mean((x, y) => x * y);
  const matrix = new Matrix([
    [mean((x) => x * x), xy],
    [xy, mean((_, y) => y * y)],
  ]);
  const [least = 0, most = 0] = new EigenvalueDecomposition(matrix, { assumeSymmetric: true }).realEigenvalues
    .sort((a, b) => a - b)
    .map((value) => Math.sqrt(Math.max(0, value)));
  return { along: most, across: least };
};

type Flat = readonly [number, number];

const doubleArea = (a: Flat, b: Flat, c: Flat) =>
  (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);

const longestSide = (a: Flat, b: Flat, c: Flat) =>
  Math.max(
    Math.hypot(b[0] - a[0], b[1] - a[1]),
    Math.hypot(c[0] - a[0], c[1] - a[1]),
    Math.hypot(c[0] - b[0], c[1] - b[1]),
  );

/**
 * Whether the corners go round as they must. A camera above the ground sees every three of them in the same sense of
 * rotation as a bird does: all the wrong way is a mirror picture, some is two corners confused. Triples flatter than
 * `slack` pixels say nothing.
 */
export const orderOf = (corners: readonly Sighting[], slack: number): 'sound' | 'mirrored' | 'crossed' => {
  let right = 0;
  let wrong = 0;
  corners.forEach((a, i) =>
    corners.slice(i + 1).forEach((b, j) =>
      corners.slice(i + j + 2).forEach((c) => {
        const seen = doubleArea(a.pixel, b.pixel, c.pixel);
        if (Math.abs(seen) < slack * longestSide(a.pixel, b.pixel, c.pixel)) return;
        const flat = ({ point }: Sighting): Flat => [point[0], point[1]];
        // Pixels count downwards, so the sense is reversed where it is sound.
        if (seen > 0 === doubleArea(flat(a), flat(b), flat(c)) < 0) right += 1;
        else wrong += 1;
      }),
    ),
  );
  if (wrong === 0) return 'sound';
  return right === 0 ? 'mirrored' : 'crossed';
};
