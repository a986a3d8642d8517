import { Matrix, solve } from 'ml-matrix';

/** Of an even number of values the upper of the two in the middle; NaN of none. */
export const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? NaN;

// Turns a median absolute deviation into the standard deviation of a normal distribution.
const MAD_TO_SD = 1.4826;

/** A robust standard deviation: one wild value does not move it. */
export const robustSd = (values: readonly number[]): number => {
  const middle = median(values);
  return MAD_TO_SD * median(values.map((value) => Math.abs(value - middle)));
};

/** Gaps filled in a straight line between their neighbours; the ends hold the nearest value. Null when all are missing. */
export const filled = (values: readonly (number | null)[]): number[] | null => {
  const known = values.flatMap((value, at) => (value === null ? [] : [{ at, value }]));
  const [first] = known;
  const last = known.at(-1);
  if (!first || !last) return null;
  return values.map((value, at) => {
    if (value !== null) return value;
    const before = known.findLast((one) => one.at < at) ?? first;
    const after = known.find((one) => one.at > at) ?? last;
    if (after.at <= before.at) return before.value;
    return before.value + ((after.value - before.value) * (at - before.at)) / (after.at - before.at);
  });
};

const SPIKE_SDS = 4;

/**
 * Spikes replaced by the median of their neighbours (Hampel's filter): a value further than four robust standard
 * deviations and `slack` from it. `reach` in frames to each side.
 */
export const withoutSpikes = (values: readonly number[], reach: number, slack: number): number[] =>
  values.map((value, i) => {
    const near = values.slice(Math.max(0, i - reach), i + reach + 1);
    const middle = median(near);
    return Math.abs(value - middle) > SPIKE_SDS * (robustSd(near) + slack) ? middle : value;
  });

/** A smoothed series and its change a frame. */
export interface Smoothed {
  readonly value: readonly number[];
  readonly slope: readonly number[];
}

/** A parabola laid through the neighbours of each value by least squares, `reach` frames to each side (at least 2). */
export const smoothed = (values: readonly number[], reach: number): Smoothed => {
  const fits = values.map((_, i) => {
    const from = Math.max(0, i - reach);
    const near = values.slice(from, i + reach + 1);
    const rows = new Matrix(near.map((__, k) => [1, from + k - i, (from + k - i) ** 2]));
    // Too few neighbours for a parabola: the value itself.
    return near.length < 3 ? [values[i] ?? 0, 0] : solve(rows, Matrix.columnVector(near)).to1DArray();
  });
  return { value: fits.map((fit) => fit[0] ?? 0), slope: fits.map((fit) => fit[1] ?? 0) };
};
