const WORDS: Record<string, string> = {
  'too-many': 'That was tried too often. Please wait a quarter of an hour, or ask for a link by mail.',
  unavailable: 'Signing in does not work at the moment. Nothing is lost; please try again in a minute.',
  CredentialsSignin: 'That address and password do not fit together. Try again, or ask for a link by mail.',
};

/** What a refused sign-in says. Never which half was wrong, nor whether anybody has the address. */
export const refusalWords = (code: string | null | undefined): string =>
  WORDS[code ?? ''] ?? 'That did not work. Please load the page again and try once more.';
