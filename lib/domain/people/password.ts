import * as z from 'zod';

export const PASSWORD_MIN = 10;
export const PASSWORD_MAX = 128;

/**
 * A new password: length only, every character allowed, nothing trimmed (OWASP ASVS 5.0, 6.2.1, 6.2.4 to 6.2.9).
 * Whether everybody would guess it first is asked elsewhere, where the list of such passwords lies.
 */
export const newPasswordSchema = z
  .string()
  .min(PASSWORD_MIN, `Use at least ${PASSWORD_MIN} characters. Three or four words in a row work well.`)
  .max(PASSWORD_MAX, `Use at most ${PASSWORD_MAX} characters.`);

/** Words that a guesser would try for this person, from their name, address and program; at least 4 letters long. */
export const wordsOf = (...texts: readonly string[]): string[] => [
  ...new Set(
    texts.flatMap((text) =>
      text
        .toLowerCase()
        .split(/[^\p{L}\p{N}]+/u)
        .filter((word) => word.length >= 4),
    ),
  ),
];

/** True when little is left of the password once the given words are taken out of it. */
export const isMostlyWords = (password: string, words: readonly string[]): boolean => {
  const rest = words.reduce((text, word) => text.replaceAll(word, ''), password.toLowerCase());
  return rest.length < PASSWORD_MIN / 2 && rest.length < password.length;
};
