// The normal distribution's 99th percentile.
const Z99 = 2.326;

/**
 * What a sum of squared misfits stays below in 99 of 100 cases when only the clicks' own scatter is at work: the 99th
 * percentile of chi-square (Wilson and Hilferty, 1931).
 */
export const mostChiSquare = (freedom: number): number => {
  const spread = 2 / (9 * freedom);
  return freedom * (1 - spread + Z99 * Math.sqrt(spread)) ** 3;
};
