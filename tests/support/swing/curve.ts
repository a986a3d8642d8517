import { add, length, mix, scale, sub, unit, type Vec3 } from './vec';

/** Values at rising times; a curve through them holds its first and last value outside. */
export type Keys = readonly (readonly [time: number, value: number])[];
export type DirectionKeys = readonly (readonly [time: number, direction: Vec3])[];

function at<T>(list: readonly T[], index: number): T {
  const item = list[index];
  if (item === undefined) throw new RangeError(`No key ${index} of ${list.length}.`);
  return item;
}

function segment(times: readonly number[], t: number): number {
  let i = 0;
  while (i < times.length - 2 && t > at(times, i + 1)) i++;
  return i;
}

const hermite = (s: number) => ({
  p0: 2 * s ** 3 - 3 * s ** 2 + 1,
  m0: s ** 3 - 2 * s ** 2 + s,
  p1: -2 * s ** 3 + 3 * s ** 2,
  m1: s ** 3 - s ** 2,
});

/**
 * A smooth curve that never overshoots its keys (monotone cubic: Fritsch and Carlson 1980, with Brodlie's
 * harmonic mean of slopes). Right for feet and heights, which must stop where they are told to.
 */
export function monotone(keys: Keys): (t: number) => number {
  const times = keys.map(([time]) => time);
  const values = keys.map(([, value]) => value);
  const last = keys.length - 1;
  const rise = (i: number) => (at(values, i + 1) - at(values, i)) / (at(times, i + 1) - at(times, i));
  const slopes = values.map((_, i) => {
    if (i === 0 || i === last) return 0;
    const before = rise(i - 1);
    const after = rise(i);
    if (before * after <= 0) return 0;
    const h0 = at(times, i) - at(times, i - 1);
    const h1 = at(times, i + 1) - at(times, i);
    return (3 * (h0 + h1)) / ((2 * h1 + h0) / before + (h1 + 2 * h0) / after);
  });
  return (t) => {
    if (t <= at(times, 0)) return at(values, 0);
    if (t >= at(times, last)) return at(values, last);
    const i = segment(times, t);
    const h = at(times, i + 1) - at(times, i);
    const w = hermite((t - at(times, i)) / h);
    return (
      w.p0 * at(values, i) +
      w.m0 * h * at(slopes, i) +
      w.p1 * at(values, i + 1) +
      w.m1 * h * at(slopes, i + 1)
    );
  };
}

const STEPS = 24;

// A round path through directions (uniform Catmull-Rom, drawn out onto the sphere), as points a little apart.
function roundPath(directions: readonly Vec3[]): Vec3[] {
  const last = directions.length - 1;
  const slope = (i: number): Vec3 =>
    i === 0 || i === last ? [0, 0, 0] : scale(sub(at(directions, i + 1), at(directions, i - 1)), 0.5);
  const points: Vec3[] = [unit(at(directions, 0))];
  for (let i = 0; i < last; i++) {
    for (let step = 1; step <= STEPS; step++) {
      const w = hermite(step / STEPS);
      const start = add(scale(at(directions, i), w.p0), scale(slope(i), w.m0));
      const end = add(scale(at(directions, i + 1), w.p1), scale(slope(i + 1), w.m1));
      points.push(unit(add(start, end)));
    }
  }
  return points;
}

/**
 * A unit direction that sweeps through its keys. Its turning speed follows the keys' times alone, so that a bat
 * neither stutters nor jumps at one of them: progress along the path is itself a monotone curve.
 */
export function sweep(keys: DirectionKeys): (t: number) => Vec3 {
  const path = roundPath(keys.map(([, direction]) => unit(direction)));
  const turnedBy: number[] = [0];
  for (let i = 1; i < path.length; i++) {
    const step = length(sub(at(path, i), at(path, i - 1)));
    turnedBy.push(at(turnedBy, i - 1) + 2 * Math.asin(Math.min(1, step / 2)));
  }
  const progress = monotone(keys.map(([time], i) => [time, at(turnedBy, i * STEPS)] as const));
  return (t) => {
    const turn = progress(t);
    let i = 0;
    while (i < path.length - 2 && at(turnedBy, i + 1) < turn) i++;
    const span = at(turnedBy, i + 1) - at(turnedBy, i);
    return unit(mix(at(path, i), at(path, i + 1), span > 0 ? (turn - at(turnedBy, i)) / span : 0));
  };
}
