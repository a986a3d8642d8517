/** Of the normal distribution: what 99 of 100 cases stay below, and all but one in ten million. */
export const Z = { usual: 2.326, ever: 5.2 } as const;

/**
 * What a sum of squared misfits stays below when only the clicks' own scatter is at work, for a percentile given as that
 * of the normal distribution (`Z`): chi-square after Wilson and Hilferty, 1931.
 */
export const mostChiSquare = (freedom: number, z: number): number => {
  const spread = 2 / (9 * freedom);
  return freedom * (1 - spread + z * Math.sqrt(spread)) ** 3;
};
