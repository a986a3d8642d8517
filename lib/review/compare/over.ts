import type { FramePoint } from '@/lib/domain/marks/mark';
import type { PictureSize, Pixel } from '@/lib/domain/marks/geometry';

/** Nine numbers of a projective map, row by row: (x, y, 1) to (u, v, w), read as (u / w, v / w). */
export type Projection = readonly [number, number, number, number, number, number, number, number, number];

/** How the second picture lies over the first: its pixels to the first one's, and by what they were lined up. */
export interface Over {
  readonly map: Projection;
  readonly by: 'ground' | 'fit';
}

/** The corners of a picture may be carried apart by at most this factor of depth, else the map is of no use. */
const MOST_DEPTH = 6;

const times = (a: Projection, b: Projection): Projection => {
  const cell = (row: number, column: number) =>
    [0, 1, 2].reduce((sum, k) => sum + (a[row * 3 + k] ?? 0) * (b[k * 3 + column] ?? 0), 0);
  return [
    ...[cell(0, 0), cell(0, 1), cell(0, 2)],
    ...[cell(1, 0), cell(1, 1), cell(1, 2)],
    ...[cell(2, 0), cell(2, 1), cell(2, 2)],
  ] as unknown as Projection;
};

/** The way back, up to a factor; null when there is none. */
const inverse = ([a, b, c, d, e, f, g, h, i]: Projection): Projection | null => {
  const determinant = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  if (!Number.isFinite(determinant) || Math.abs(determinant) < 1e-12) return null;
  return [
    ...[e * i - f * h, c * h - b * i, b * f - c * e],
    ...[f * g - d * i, a * i - c * g, c * d - a * f],
    ...[d * h - e * g, b * g - a * h, a * e - b * d],
  ] as unknown as Projection;
};

/** Where a pixel is carried to, with its depth `w`. */
export const carry = (map: Projection, [x, y]: Pixel): { at: Pixel; w: number } => {
  const [a, b, c, d, e, f, g, h, i] = map;
  const w = g * x + h * y + i;
  return { at: [(a * x + b * y + c) / w, (d * x + e * y + f) / w], w };
};

/** A mark's point on the second picture as a point of the first. */
export const carryPoint = (
  map: Projection,
  p: FramePoint,
  from: PictureSize,
  to: PictureSize,
): FramePoint => {
  const { at } = carry(map, [p.x * from.width, p.y * from.height]);
  return { x: at[0] / to.width, y: at[1] / to.height };
};

/** The whole second picture in the middle of the first, as large as it fits, in a mirror where that is asked. */
export function fitOver(first: PictureSize, second: PictureSize, isMirrored: boolean): Over {
  const k = Math.min(first.width / second.width, first.height / second.height);
  const left = (first.width - second.width * k) / 2;
  const top = (first.height - second.height * k) / 2;
  const map: Projection = isMirrored
    ? [-k, 0, left + second.width * k, 0, k, top, 0, 0, 1]
    : [k, 0, left, 0, k, top, 0, 0, 1];
  return { map, by: 'fit' };
}

const AS_IT_IS: Projection = [1, 0, 0, 0, 1, 0, 0, 0, 1];
/** The ground in a mirror along the pitcher line: the third-base side and the first-base side change places. */
const OTHER_SIDE: Projection = [1, 0, 0, 0, -1, 0, 0, 0, 1];

/**
 * The second picture over the first so that the ground of both agrees: plate on plate. `ground` maps metres of the
 * plate's frame (x to the pitcher, y to the third-base side) to pixels of each picture. Null when the cameras stood so
 * differently that the picture would be torn apart.
 */
export function groundOver(
  ground: { first: Projection; second: Projection },
  second: PictureSize,
  isMirrored: boolean,
): Over | null {
  const back = inverse(ground.second);
  if (!back) return null;
  const map = times(times(ground.first, isMirrored ? OTHER_SIDE : AS_IT_IS), back);
  const { width, height } = second;
  // Of every homography only the ratio counts: the corner at the bottom, which shows ground, must lie ahead.
  const bottom = carry(map, [width / 2, height]).w;
  const corners: Pixel[] = [
    [0, 0],
    [width, 0],
    [0, height],
    [width, height],
  ];
  const depths = corners.map((corner) => carry(map, corner).w / bottom);
  const isTorn = depths.some((w) => !Number.isFinite(w) || w < 1 / MOST_DEPTH || w > MOST_DEPTH);
  return isTorn ? null : { map: map.map((one) => one / bottom) as unknown as Projection, by: 'ground' };
}

/**
 * The map as a CSS transform with the origin at the top left, for both pictures at `scale` CSS pixels to one of theirs.
 */
export function cssTransform({ map }: Over, scale: number): string {
  const [a, b, c, d, e, f, g, h, i] = map;
  const columns = [
    ...[a, d, 0, g / scale],
    ...[b, e, 0, h / scale],
    ...[0, 0, 1, 0],
    ...[c * scale, f * scale, 0, i],
  ];
  return `matrix3d(${columns.map((one) => Number(one.toPrecision(10))).join(', ')})`;
}
