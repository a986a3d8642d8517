const MOST_WORDS = 8;

/**
 * What somebody typed as a query of PostgreSQL's full text search: every word must be there, its end may be missing.
 * Null when there is no letter or digit in it.
 */
export const textQuery = (typed: string): string | null => {
  const words = typed.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? [];
  return words.length === 0
    ? null
    : words
        .slice(0, MOST_WORDS)
        .map((word) => `${word}:*`)
        .join(' & ');
};
