import { createRequire } from 'node:module';
import type OpenCv from '@techstark/opencv-js';
import { beforeAll, describe, expect, it } from 'vitest';
import { groundHomography } from '@/lib/domain/measures/camera';
import { calibrate } from '@/lib/domain/measures/calibrate';
import { groundPoint } from '@/lib/domain/measures/field';
import { homography, throughHomography, type Pair } from '@/lib/domain/measures/homography';
import { GROUND_NAMES } from '@/lib/domain/measures/names';
import { buildInput } from '../../domain/measures/build-input';
import { chanceOf, VIEWS, type View } from '../../support/measures/filming';
import { PLATE } from '../../support/measures/seen-swing';
import { seeded } from '../../support/swing/scene/random';

// Required, not imported: the module has a `then` that never comes to an end.
const cv = createRequire(import.meta.url)('@techstark/opencv-js') as typeof OpenCv;

// OpenCV's own homography (`findHomography`, least squares over all points) on the same points.
beforeAll(
  () =>
    new Promise<void>((resolve) => {
      if (cv.Mat) resolve();
      else cv.onRuntimeInitialized = resolve;
    }),
);

const pairsOf = (input: ReturnType<typeof buildInput>): Pair[] =>
  input.ground.map(({ at, x, y }) => {
    const [gx, gy] = groundPoint(input.field, input.bats, at);
    return { ground: [gx, gy], pixel: [x, y] };
  });

function openCv(pairs: readonly Pair[]): (at: readonly [number, number]) => readonly [number, number] {
  const matrix = (rows: readonly (readonly [number, number])[]) =>
    cv.matFromArray(rows.length, 2, cv.CV_64F, rows.flat());
  const from = matrix(pairs.map(({ ground }) => ground));
  const to = matrix(pairs.map(({ pixel }) => pixel));
  const found = cv.findHomography(from, to, 0);
  const h = Array.from(found.data64F as Float64Array);
  [from, to, found].forEach((mat) => mat.delete());
  return ([x, y]) => {
    const [u, v, w] = [0, 3, 6].map((i) => h[i]! * x + h[i + 1]! * y + h[i + 2]!);
    return [u! / w!, v! / w!];
  };
}

/** A hitter's surroundings on the ground, in metres. */
const PLACES = [-1, -0.5, 0, 0.5, 1].flatMap((x) => [-0.5, 0, 0.5, 1, 1.5].map((y) => [x, y] as const));

const furthest = (
  a: (at: readonly [number, number]) => readonly [number, number],
  b: (at: readonly [number, number]) => readonly [number, number],
) =>
  Math.max(
    ...PLACES.map((at) => {
      const [p, q] = [a(at), b(at)];
      return Math.hypot(p[0] - q[0], p[1] - q[1]);
    }),
  );

describe('the ground on the picture, beside OpenCV', () => {
  const views = Object.keys(VIEWS) as View[];

  it.each(views)('is the same from %s, from the plate alone and with the box', (view) => {
    for (const corners of [PLATE, GROUND_NAMES]) {
      const input = buildInput({ view, corners, clickSd: 0 });
      const theirs = openCv(pairsOf(input));
      const ours = homography(pairsOf(input));
      // OpenCV keeps the points as 32-bit floats.
      expect(furthest((at) => throughHomography(ours, at), theirs)).toBeLessThan(0.01);
      const calibrated = calibrate(input);
      if (!calibrated.ok) throw new Error(calibrated.sentence);
      const h = groundHomography(calibrated.camera);
      const camera = ([x, y]: readonly [number, number]) => {
        const [u, v, w] = [0, 3, 6].map((i) => h[i]! * x + h[i + 1]! * y + h[i + 2]!);
        return [u! / w!, v! / w!] as const;
      };
      expect(furthest(camera, theirs)).toBeLessThan(0.05);
    }
  });

  it.each(views)('agrees within the clicks’ own scatter from %s', (view) => {
    const chance = chanceOf(seeded(11));
    const input = buildInput({ view, clickSd: 1, chance });
    const theirs = openCv(pairsOf(input));
    const ours = homography(pairsOf(input));
    // Ours is the start of the fit, without the last squeeze in pixels.
    expect(furthest((at) => throughHomography(ours, at), theirs)).toBeLessThan(2);
  });
});
