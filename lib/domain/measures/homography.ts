import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import type { Pixel, PictureSize } from '../marks/geometry';
import type { Camera } from './camera';
import { cross, dot, norm, scale, sub, unit, type Vec3 } from './vector';

/** A flat place and where it is seen: metres on the ground, pixels in the picture. */
export interface Pair {
  readonly ground: readonly [x: number, y: number];
  readonly pixel: Pixel;
}

type Flat = readonly [number, number];

// Moves points to their middle and scales them to a mean distance of √2 (Hartley, 1997): without it the equations of
// metres and pixels are too unlike to be solved together.
const normaliser = (points: readonly Flat[]) => {
  const n = points.length;
  const mx = points.reduce((sum, p) => sum + p[0], 0) / n;
  const my = points.reduce((sum, p) => sum + p[1], 0) / n;
  const spread = points.reduce((sum, p) => sum + Math.hypot(p[0] - mx, p[1] - my), 0) / n;
  const s = Math.SQRT2 / spread;
  return {
    apply: (p: Flat): Flat => [s * (p[0] - mx), s * (p[1] - my)],
    matrix: new Matrix([
      [s, 0, -s * mx],
      [0, s, -s * my],
      [0, 0, 1],
    ]),
    undo: new Matrix([
      [1 / s, 0, mx],
      [0, 1 / s, my],
      [0, 0, 1],
    ]),
  };
};

/**
 * The 3 by 3 matrix that takes ground (x, y, 1) in metres to pixels, by the normalised direct linear transform
 * (Hartley and Zisserman, Multiple View Geometry, algorithm 4.2). At least four pairs, no three of four in line.
 */
export const homography = (pairs: readonly Pair[]): Matrix => {
  const from = normaliser(pairs.map((p) => p.ground));
  const to = normaliser(pairs.map((p) => p.pixel));
  const rows = pairs.flatMap(({ ground, pixel }) => {
    const [x, y] = from.apply(ground);
    const [u, v] = to.apply(pixel);
    return [
      [-x, -y, -1, 0, 0, 0, u * x, u * y, u],
      [0, 0, 0, -x, -y, -1, v * x, v * y, v],
    ];
  });
  // A ninth row of zeros: with four pairs the decomposition would otherwise leave out the null vector.
  rows.push(new Array<number>(9).fill(0));
  const { rightSingularVectors } = new SingularValueDecomposition(new Matrix(rows), { autoTranspose: true });
  const h = rightSingularVectors.getColumn(8);
  const middle = new Matrix([h.slice(0, 3), h.slice(3, 6), h.slice(6, 9)]);
  return to.undo.mmul(middle).mmul(from.matrix);
};

/** Where the ground point (x, y) falls in the picture. */
export const throughHomography = (h: Matrix, [x, y]: Flat): Pixel => {
  const [u = 0, v = 0, w = 0] = h.mmul(Matrix.columnVector([x, y, 1])).to1DArray();
  return [u / w, v / w];
};

// Columns of the homography as seen from the middle of the picture, in pixels.
const columnsOf = (h: Matrix, { width, height }: PictureSize): [Vec3, Vec3, Vec3] => {
  const column = (j: number): Vec3 => {
    const w = h.get(2, j);
    return [h.get(0, j) - (width / 2) * w, h.get(1, j) - (height / 2) * w, w];
  };
  return [column(0), column(1), column(2)];
};

/**
 * The focal length in pixels for which the ground's two axes come out at right angles and equally long (square pixels,
 * axis through the middle; Zhang, 2000). Null when the picture does not say, as with a camera square to the ground.
 */
export const focalOf = (h: Matrix, size: PictureSize): number | null => {
  const [a, b] = columnsOf(h, size);
  const p1 = a[0] * b[0] + a[1] * b[1];
  const q1 = a[2] * b[2];
  const p2 = a[0] ** 2 + a[1] ** 2 - b[0] ** 2 - b[1] ** 2;
  const q2 = a[2] ** 2 - b[2] ** 2;
  const inverseSquare = -(p1 * q1 + p2 * q2) / (p1 * p1 + p2 * p2);
  return inverseSquare > 0 && Number.isFinite(inverseSquare) ? 1 / Math.sqrt(inverseSquare) : null;
};

/** The camera of a given focal length that sees the ground as nearly like the homography as a camera can. */
export const cameraOf = (h: Matrix, size: PictureSize, focal: number): Camera => {
  const [a, b, c] = columnsOf(h, size).map((v): Vec3 => [v[0] / focal, v[1] / focal, v[2]]) as [
    Vec3,
    Vec3,
    Vec3,
  ];
  // The sign of a homography is free: the plate's apex has to be in front of the camera.
  const s = (Math.sign(c[2]) || 1) / ((norm(a) + norm(b)) / 2);
  const x = unit(scale(a, s));
  const along = scale(b, s);
  const y = unit(sub(along, scale(x, dot(x, along))));
  const z = cross(x, y);
  const apex = scale(c, s);
  const axis = (i: 0 | 1 | 2): Vec3 => [x[i], y[i], z[i]];
  return {
    width: size.width,
    height: size.height,
    focal,
    position: [-dot(x, apex), -dot(y, apex), -dot(z, apex)],
    right: axis(0),
    down: axis(1),
    forward: axis(2),
  };
};
