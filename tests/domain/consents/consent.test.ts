import { describe, expect, test } from 'vitest';
import {
  CHOICE_WORDS,
  CHOICES,
  consentEnds,
  latestOf,
  SCOPES,
  standingOf,
  standingTogether,
  type ConsentRecord,
} from '@/lib/domain/consents/consent';
import type { Day } from '@/lib/domain/people/age';

const today = '2026-11-25' as Day;
const until = (day: string) => ({ expiresAt: new Date(`${day}T09:00:00Z`), withdrawnAt: null });
const taken = { ...until('2027-01-01'), withdrawnAt: new Date('2026-11-01') };

describe('how one consent stands', () => {
  test.each([
    ['none was given', null, 'none'],
    ['it ends tomorrow', until('2026-11-26'), 'given'],
    ['it ends today', until('2026-11-25'), 'lapsed'],
    ['it ended long ago', until('2025-01-01'), 'lapsed'],
    ['it has no end', { expiresAt: null, withdrawnAt: null }, 'given'],
    ['it was taken back', taken, 'withdrawn'],
    ['it was taken back and is over', { ...taken, expiresAt: new Date('2026-01-01') }, 'withdrawn'],
  ] as const)('%s', (_what, terms, standing) => expect(standingOf(terms, today)).toBe(standing));
});

describe('how several stand together', () => {
  const [given, lapsed] = [until('2027-01-01'), until('2026-01-01')];
  test.each([
    ['nobody', [], 'none'],
    ['one without', [null], 'none'],
    ['one given, one without', [null, given], 'given'],
    ['one given, one lapsed', [lapsed, given], 'given'],
    ['one lapsed, one without', [null, lapsed], 'lapsed'],
    ['one given, one taken back', [given, taken], 'withdrawn'],
  ] as const)('%s', (_who, latest, standing) => expect(standingTogether(latest, today)).toBe(standing));
});

test('a consent holds for a year', () => {
  expect(consentEnds(new Date('2026-11-25T10:00:00Z'))).toEqual(new Date('2027-11-25T10:00:00Z'));
  expect(consentEnds(new Date('2028-02-29T10:00:00Z'))).toEqual(new Date('2029-03-01T10:00:00Z'));
});

test('the latest of each person counts, whatever the order', () => {
  const record = (byId: string, scope: string, givenAt: string): ConsentRecord => ({
    ...until('2027-01-01'),
    byId,
    scope,
    version: '1',
    method: 'account-page',
    givenAt: new Date(givenAt),
  });
  const first = record('a', 'share', '2026-01-01');
  const second = record('a', 'share', '2026-02-01');
  const others = [record('a', 'training', '2026-03-01'), record('b', 'share', '2026-04-01')];
  expect(latestOf([second, first, ...others], 'share', ['a'])).toEqual([second]);
  expect(latestOf([first, second, ...others], 'share', ['a', 'c'])).toEqual([second, null]);
});

// 16 CFR 312.5(a): a parent may agree to collection without agreeing to disclosure, so no choice hangs on lessons.
test('the choices are separate from lessons, each with words of its own', () => {
  expect(SCOPES.filter((scope) => !(CHOICES as readonly string[]).includes(scope))).toEqual(['lessons']);
  expect(CHOICES).toEqual(['share', 'example', 'training', 'third-party']);
  expect(new Set(CHOICES.map((one) => CHOICE_WORDS[one].text)).size).toBe(4);
});
