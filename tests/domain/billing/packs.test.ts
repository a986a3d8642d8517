import { describe, expect, test } from 'vitest';
import {
  PACK_REFUSALS,
  packLeft,
  packRefusal,
  USUAL_VALID_DAYS,
  validUntil,
} from '@/lib/domain/billing/packs';
import { payerOf } from '@/lib/domain/billing/payer';
import type { Day } from '@/lib/domain/people/age';

const END = new Date('2026-12-31T23:59:59Z');
const pack = (usedLessons: number) => ({ lessons: 3, usedLessons, validUntil: END });

test.each([
  [0, 3],
  [2, 1],
  [3, 0],
  [4, 0],
])('of three lessons, %i used, %i are left', (used, left) => {
  expect(packLeft(pack(used))).toBe(left);
});

describe('a pack that cannot pay', () => {
  const before = new Date(END.getTime() - 1);
  const after = new Date(END.getTime() + 1);
  test.each([
    [2, before, null],
    [2, END, null],
    [2, after, 'pack-over'],
    [3, before, 'pack-empty'],
    [3, after, 'pack-over'],
  ])('%i used, at %s: %s', (used, now, refusal) => {
    expect(packRefusal(pack(used), now)).toBe(refusal);
  });

  test('of another family is none', () => {
    expect(packRefusal(null, before)).toBe('pack-not-family');
  });

  test('is told with what was kept and what to do', () => {
    for (const words of Object.values(PACK_REFUSALS))
      expect(words).toMatch(/answers are kept: choose another/);
  });
});

test('a pack is valid for whole days of 24 hours, usually a year', () => {
  const at = new Date('2026-03-01T12:00:00Z');
  expect(validUntil(at, 10)).toEqual(new Date('2026-03-11T12:00:00Z'));
  expect(USUAL_VALID_DAYS).toBe(365);
});

describe('who pays', () => {
  const today = '2026-06-01' as Day;
  const adult = { id: 'player', birthDate: '2000-01-01' as Day };
  const minor = { id: 'player', birthDate: '2012-01-01' as Day };
  test.each([
    ['a guardian who sends', 'guardian', minor, ['guardian'], 'guardian'],
    ['a grown-up player', 'player', adult, ['guardian'], 'player'],
    ['the guardian of a minor who sends alone', 'player', minor, ['guardian', 'other'], 'guardian'],
    ['a second guardian who sends', 'other', minor, ['guardian', 'other'], 'other'],
    ['a minor without a guardian, until there is one', 'player', minor, [], 'player'],
    [
      'the guardian of somebody of unknown age',
      'player',
      { ...minor, birthDate: null },
      ['guardian'],
      'guardian',
    ],
  ])('%s', (_what, senderId, player, guardianIds, payer) => {
    expect(payerOf({ senderId, player, guardianIds }, today)).toBe(payer);
  });
});
