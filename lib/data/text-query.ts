const MOST_WORDS = 8;

const wordsOf = (typed: string): string[] =>
  (typed.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? []).slice(0, MOST_WORDS);

// One letter begins so many words that it is taken for a whole one; in scripts that do not part words it is not.
const openEnd = (word: string) => (/^[a-z0-9]$/.test(word) ? word : `${word}:*`);

/**
 * What somebody typed as a query of PostgreSQL's full text search: every word must be there, its end may be missing.
 * Null when there is no letter or digit in it.
 */
export const textQuery = (typed: string): string | null => {
  const words = wordsOf(typed);
  return words.length === 0 ? null : words.map(openEnd).join(' & ');
};

/**
 * The same for words that are kept with a tag before each (`tagged_words` in the database): a pattern for SQL's
 * `format`, where "%1$s" stands for the tag. Null when there is no letter or digit in it.
 */
export const taggedQuery = (typed: string): string | null => {
  const words = wordsOf(typed);
  return words.length === 0 ? null : words.map((word) => `%1$s${openEnd(word)}`).join(' & ');
};
