/** The value below which a share of the values lies, the nearest of them; NaN of none. */
export function percentile(values: readonly number[], at: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(at * sorted.length))] ?? NaN;
}

export const median = (values: readonly number[]) => percentile(values, 0.5);

/** Root mean square. */
export const rms = (values: readonly number[]) =>
  Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);

/** The share of what is true. */
export const share = (values: readonly boolean[]) => values.filter(Boolean).length / values.length;
