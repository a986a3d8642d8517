import { describe, expect, test } from 'vitest';
import type { Day } from '@/lib/domain/people/age';
import { CLEARANCE_KINDS, isCleared, missingClearances } from '@/lib/domain/people/clearances';

const today = '2026-11-25' as Day;
const one = (
  kind: string,
  issuedOn = '2026-01-01',
  expiresOn = '2027-01-01',
  revokedAt: Date | null = null,
) => ({
  kind,
  issuedOn: new Date(issuedOn),
  expiresOn: new Date(expiresOn),
  revokedAt,
});
const [check, training] = CLEARANCE_KINDS.map((kind) => one(kind));

describe('who may work with minors', () => {
  test('needs a background check and a training against abuse', () => {
    expect(isCleared([check!, training!], today)).toBe(true);
    expect(isCleared([], today)).toBe(false);
    expect(missingClearances([check!], today)).toEqual(['abuse-prevention']);
    expect(missingClearances([training!], today)).toEqual(['background-check']);
  });

  test.each([
    ['ends today', one('background-check', '2026-01-01', '2026-11-25'), true],
    ['ended yesterday', one('background-check', '2026-01-01', '2026-11-24'), false],
    ['was issued today', one('background-check', '2026-11-25'), true],
    ['will be issued tomorrow', one('background-check', '2026-11-26'), false],
    ['was revoked', one('background-check', '2026-01-01', '2027-01-01', new Date('2026-02-01')), false],
  ] as const)('a check that %s', (_what, it, holds) => {
    expect(isCleared([it, training!], today)).toBe(holds);
    // A newer one beside it is enough.
    expect(isCleared([it, check!, training!], today)).toBe(true);
  });
});
