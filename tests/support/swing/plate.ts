import type { Vec2 } from './vec';

const INCH = 0.0254;
const FOOT = 0.3048;

/**
 * Home plate on the ground, anticlockwise from its rear apex, in metres (x to the pitcher, y to third base):
 * a 17-inch square without two corners (Official Baseball Rules 2.02).
 */
export const PLATE: readonly Vec2[] = [
  [0, 0],
  [8.5 * INCH, -8.5 * INCH],
  [17 * INCH, -8.5 * INCH],
  [17 * INCH, 8.5 * INCH],
  [8.5 * INCH, 8.5 * INCH],
];

export const PLATE_CENTRE_X = 8.5 * INCH;

/** Lines of the two batter's boxes: 4 by 6 feet, 6 inches from the plate, as on most baseball fields. */
export const BOX = { width: 4 * FOOT, length: 6 * FOOT, gap: 6 * INCH, line: 3 * INCH } as const;

/** Corners of a batter's box, anticlockwise: `1` on the third-base side (right-handed hitters), `-1` on the other. */
export function boxCorners(side: 1 | -1): readonly Vec2[] {
  const near = side * (8.5 * INCH + BOX.gap);
  const far = side * (8.5 * INCH + BOX.gap + BOX.width);
  const front = PLATE_CENTRE_X + BOX.length / 2;
  const rear = PLATE_CENTRE_X - BOX.length / 2;
  const [low, high] = near < far ? [near, far] : [far, near];
  return [
    [rear, low],
    [front, low],
    [front, high],
    [rear, high],
  ];
}

/** Balls: a baseball is 9 to 9¼ inches round, a softball 12, give or take ⅛. Radii in metres. */
export const BALL_RADIUS = {
  baseball: (9.125 * INCH) / (2 * Math.PI),
  softball: (12 * INCH) / (2 * Math.PI),
} as const;
