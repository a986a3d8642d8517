/** The name of a breakdown: the coach's own, else its place among several. */
export const titleOf = (breakdown: { title: string }, at: number, count: number): string =>
  breakdown.title || (count > 1 ? `Breakdown ${at + 1}` : 'The breakdown');
