import { hash, verify } from '@node-rs/argon2';
import { dictionary } from '@zxcvbn-ts/language-common';
import { isMostlyWords } from '@/lib/domain/people/password';
import type { Passwords } from '@/lib/workflows/ports';

// Argon2id (the library's default kind) with 19 MiB, 2 passes, 1 lane: the first choice of OWASP's Password
// Storage Cheat Sheet.
const COST = { memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const;

const common = new Set<string | number>(dictionary['passwords-common']);

// What an unknown address is checked against, so that it takes as long as a known one.
let nobody: Promise<string> | undefined;
const hashOfNobody = () => (nobody ??= hash(crypto.randomUUID(), COST));

/** Argon2id behind the port of the workflows. `matches(null, …)` works as long as a real check and is always false. */
export const passwords: Passwords = {
  hash: (password) => hash(password, COST),

  async matches(kept, password) {
    const isSame = await verify(kept ?? (await hashOfNobody()), password);
    return kept !== null && isSame;
  },

  isGuessable(password, words) {
    const plain = password.toLowerCase();
    return (
      common.has(plain) ||
      common.has(plain.replace(/[\d\W]+$/u, '')) ||
      new Set(plain).size < 4 ||
      isMostlyWords(password, words)
    );
  },
};
