import { Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { project, type Camera } from '@/lib/domain/measures/camera';
import {
  cameraOf,
  focalOf,
  homography,
  throughHomography,
  type Pair,
} from '@/lib/domain/measures/homography';
import { cross, sub, unit, type Vec3 } from '@/lib/domain/measures/vector';

const SIZE = { width: 1280, height: 720 };

/** A camera at `position` that looks at a place on the ground and stands upright. */
const looking = (position: Vec3, at: Vec3, focal: number): Camera => {
  const forward = unit(sub(at, position));
  const right = unit(cross(forward, [0, 0, 1]));
  return { ...SIZE, focal, position, right, forward, down: cross(forward, right) };
};

const PLACES = [
  [0, 0],
  [0.22, 0.22],
  [0.43, 0.22],
  [0.43, -0.22],
  [0.22, -0.22],
  [1.13, 0.37],
  [-0.7, 0.37],
] as const;

const pairsOf = (camera: Camera, off: (n: number) => number = () => 0): Pair[] =>
  PLACES.map(([x, y], n) => {
    const [u, v] = project(camera, [x, y, 0])!;
    return { ground: [x, y], pixel: [u + off(2 * n), v + off(2 * n + 1)] };
  });
const CAMERAS = [
  looking([0.4, -5, 1.2], [0.4, 0.4, 0.4], 1150),
  looking([-4.2, 0.9, 1.6], [0.6, 0, 0], 900),
  looking([3, -3.5, 0.9], [0.2, 0.3, 0.6], 1500),
];
// No two alike, and none that a shift or a turn of the picture could take away.
const JITTER = [0.9, -0.4, 0.3, 1.1, -1.2, 0.2, -0.6, -0.9, 0.7, 0.5, -0.1, -1.0, 0.8, -0.3];

describe('the homography of the ground', () => {
  it.each(CAMERAS)('takes every place of the ground to where the camera sees it', (camera) => {
    const h = homography(pairsOf(camera));
    for (const place of [...PLACES, [0.9, 1.2] as const, [-0.4, 0.1] as const]) {
      const [u, v] = throughHomography(h, place);
      const [wantedU, wantedV] = project(camera, [place[0], place[1], 0])!;
      expect(u).toBeCloseTo(wantedU, 6);
      expect(v).toBeCloseTo(wantedV, 6);
    }
  });

  // Hartley 1997, "In defense of the eight-point algorithm" (from memory): after normalising, the solution does not
  // depend on where the origins are, nor on the units.
  it.each(CAMERAS)(
    'of noisy clicks is the same whatever the origin and the unit of either side',
    (camera) => {
      const pairs = pairsOf(camera, (n) => JITTER[n]!);
      const h = homography(pairs);
      const other = homography(
        pairs.map(({ ground, pixel }) => ({
          ground: [ground[0] * 39.37 + 120, ground[1] * 39.37 - 310],
          pixel: [pixel[0] * 0.25 + 900, pixel[1] * 0.25 - 700],
        })),
      );
      for (const [x, y] of [...PLACES, [0.1, 0.9] as const]) {
        const [u, v] = throughHomography(h, [x, y]);
        const [otherU, otherV] = throughHomography(other, [x * 39.37 + 120, y * 39.37 - 310]);
        expect((otherU - 900) / 0.25).toBeCloseTo(u, 5);
        expect((otherV + 700) / 0.25).toBeCloseTo(v, 5);
      }
    },
  );

  it('of four corners goes through all four', () => {
    const pairs = pairsOf(CAMERAS[0]!, (n) => JITTER[n]!).filter((_, n) => [0, 2, 3, 5].includes(n));
    const h = homography(pairs);
    for (const { ground, pixel } of pairs) {
      const [u, v] = throughHomography(h, ground);
      expect(u).toBeCloseTo(pixel[0], 6);
      expect(v).toBeCloseTo(pixel[1], 6);
    }
  });
});

describe('the camera in a homography', () => {
  it.each(CAMERAS)('has the focal length, the place and the axes of the one that took it', (camera) => {
    const h = homography(pairsOf(camera));
    for (const sign of [1, -2.5]) {
      const same = h.clone().mul(sign); // the scale of a homography means nothing
      expect(focalOf(same, SIZE)! / camera.focal).toBeCloseTo(1, 6);
      const found = cameraOf(same, SIZE, camera.focal);
      for (const part of ['position', 'right', 'down', 'forward'] as const)
        found[part].forEach((value, i) => expect(value).toBeCloseTo(camera[part][i]!, 6));
    }
  });

  it('does not say its focal length when it looks straight down', () => {
    const down: Camera = {
      ...SIZE,
      focal: 1000,
      position: [0.3, 0, 4],
      right: [1, 0, 0],
      down: [0, -1, 0],
      forward: [0, 0, -1],
    };
    // Exactly square: every focal length fits, and the equation has nothing to stand on.
    const h = homography(pairsOf(down)).mul(1);
    h.set(2, 0, 0);
    h.set(2, 1, 0);
    h.set(1, 1, -h.get(0, 0));
    h.set(0, 1, 0);
    h.set(1, 0, 0);
    expect(focalOf(h, SIZE)).toBeNull();
  });

  it('does not say it either when no camera could have taken the picture', () => {
    // Seen from the middle of the picture: the axis that comes nearer is also the longer one, at right angles to the
    // other. The equation asks for a negative square.
    const h = new Matrix([
      [1000 + 640, 0, 640],
      [360, 500, 360],
      [1, 0, 1],
    ]);
    expect(focalOf(h, SIZE)).toBeNull();
  });
});
