import { inverse, Matrix, solve } from 'ml-matrix';
import type { Pixel, PictureSize } from '../marks/geometry';
import { CAMERA_FREEDOM, moved, project, seenFrom, type Camera } from './camera';
import { cameraOf, focalOf, homography } from './homography';
import type { FocalBelief } from './lens';
import { cross, dot, scale, sub, unit, type Vec3 } from './vector';

/** A known point of the ground and the pixel where somebody clicked it. */
export interface Sighting {
  readonly point: Vec3;
  readonly pixel: Pixel;
}

export interface CameraFit {
  readonly camera: Camera;
  /** Seven by seven, of the numbers of `moved`, from the clicks and the belief about the focal length together. */
  readonly covariance: readonly (readonly number[])[];
  /** Sum of squared misfits in units of the click's sd, the belief's one included. */
  readonly chiSquare: number;
  /** Observations less free numbers. */
  readonly freedom: number;
}

interface Task {
  readonly sightings: readonly Sighting[];
  readonly clickSd: number;
  readonly belief: FocalBelief;
}

// Below this a click's sd would only lose digits of the equations.
const LEAST_SD = 1e-4;
const MOST_STEPS = 80;

const misfits = (camera: Camera, { sightings, clickSd, belief }: Task): number[] | null => {
  const all: number[] = [];
  for (const { point, pixel } of sightings) {
    const seen = project(camera, point);
    if (!seen) return null;
    all.push((seen[0] - pixel[0]) / clickSd, (seen[1] - pixel[1]) / clickSd);
  }
  all.push(Math.log(camera.focal / belief.focal) / belief.logSd);
  return all;
};

// Derivatives of the misfits by the seven numbers of `moved`.
const slopes = (camera: Camera, { sightings, clickSd, belief }: Task): Matrix => {
  const rows = sightings.flatMap(({ point }) => {
    const [right, down, ahead] = seenFrom(camera, point);
    const ray = sub(point, camera.position);
    const row = (offset: number, axis: Vec3) => {
      const perMetre = camera.focal / ahead / clickSd;
      const byPlace = sub(scale(camera.forward, offset / ahead), axis);
      const byTurn = sub(cross(axis, ray), scale(cross(camera.forward, ray), offset / ahead));
      return [perMetre * offset, ...scale(byPlace, perMetre), ...scale(byTurn, perMetre)];
    };
    return [row(right, camera.right), row(down, camera.down)];
  });
  return new Matrix([...rows, [1 / belief.logSd, 0, 0, 0, 0, 0, 0]]);
};

const sumOfSquares = (values: readonly number[]) => values.reduce((sum, v) => sum + v * v, 0);

/** Levenberg and Marquardt from one camera; null when that camera does not even see the points. */
const descend = (start: Camera, task: Task): { camera: Camera; cost: number } | null => {
  let camera = start;
  let off = misfits(camera, task);
  if (!off) return null;
  let cost = sumOfSquares(off);
  let damping = 1e-3;
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const j = slopes(camera, task);
    const normal = j.transpose().mmul(j);
    const gradient = j.transpose().mmul(Matrix.columnVector(off));
    let gained = 0;
    while (damping < 1e12) {
      const damped = normal.clone();
      for (let i = 0; i < CAMERA_FREEDOM; i += 1) damped.set(i, i, normal.get(i, i) * (1 + damping));
      const next = moved(camera, solve(damped, gradient.clone().mul(-1)).to1DArray());
      const nextOff = misfits(next, task);
      const nextCost = nextOff ? sumOfSquares(nextOff) : Infinity;
      if (nextOff && nextCost < cost) {
        gained = cost - nextCost;
        [camera, off, cost] = [next, nextOff, nextCost];
        damping = Math.max(damping / 10, 1e-12);
        break;
      }
      damping *= 10;
    }
    if (gained <= 1e-13 * cost) break;
  }
  return { camera, cost };
};

/**
 * The other camera that sees a small flat thing almost alike: what is near and what is far on it change places. From
 * far away only the perspective tells the two apart, so both are tried.
 */
const otherReading = (camera: Camera, middle: Vec3): Camera => {
  const seen = seenFrom(camera, middle);
  const line = unit(seen);
  const flipped = (axis: 0 | 1): Vec3 => {
    const column: Vec3 = [camera.right[axis], camera.down[axis], camera.forward[axis]];
    return sub(column, scale(line, 2 * dot(line, column)));
  };
  const x = flipped(0);
  const y = flipped(1);
  const z = cross(x, y);
  return {
    ...camera,
    right: [x[0], y[0], z[0]],
    down: [x[1], y[1], z[1]],
    forward: [x[2], y[2], z[2]],
    position: sub(middle, [dot(x, seen), dot(y, seen), dot(z, seen)]),
  };
};

// Of two cameras that fit equally well, the one held more upright.
const UPRIGHT_PENALTY = 4;
const penalty = (camera: Camera) => UPRIGHT_PENALTY * (1 + camera.down[2]);

/**
 * The camera that sees known points of the ground where they were clicked: seven numbers fitted in the picture, with
 * what is believed of the focal length as one more observation. At least four points, not in line. `clickSd` is the
 * standard deviation of a click in pixels. Null when no camera sees them like that.
 */
export const fitCamera = (
  size: PictureSize,
  sightings: readonly Sighting[],
  belief: FocalBelief,
  clickSd: number,
): CameraFit | null => {
  const task: Task = { sightings, belief, clickSd: Math.max(clickSd, LEAST_SD) };
  const h = homography(sightings.map(({ point, pixel }) => ({ ground: [point[0], point[1]], pixel })));
  const middle = scale(
    sightings.reduce<Vec3>((sum, { point }) => [sum[0] + point[0], sum[1] + point[1], 0], [0, 0, 0]),
    1 / sightings.length,
  );
  const own = focalOf(h, size);
  const starts = [belief.focal, ...(own ? [own] : [])]
    .map((focal) => cameraOf(h, size, focal))
    .flatMap((camera) => [camera, otherReading(camera, middle)]);
  const ends = starts.map((start) => descend(start, task)).filter((end) => end !== null);
  const [best] = ends.sort((a, b) => a.cost + penalty(a.camera) - b.cost - penalty(b.camera));
  if (!best) return null;
  const j = slopes(best.camera, task);
  return {
    camera: best.camera,
    covariance: inverse(j.transpose().mmul(j)).to2DArray(),
    chiSquare: best.cost,
    freedom: 2 * sightings.length + 1 - CAMERA_FREEDOM,
  };
};
