import type { ConsentTerms } from '@/lib/domain/consents/consent';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dayOfDate, daySchema, type Day } from '@/lib/domain/people/age';
import {
  canStaffWrite,
  isMinor,
  mayHaveLogin,
  minorsAreBornAfter,
  staffContact,
} from '@/lib/domain/people/safeguarding';

const today = daySchema.parse('2026-06-01');
const aged = (years: number) => ({ birthDate: `${2026 - years}-05-01` as Day });
const GIVEN = { expiresAt: new Date('2100-01-01'), withdrawnAt: null };
const LAPSED = { expiresAt: new Date('2001-01-01'), withdrawnAt: null };
const WITHDRAWN = { ...GIVEN, withdrawnAt: new Date('2001-01-01') };
const guardian = (isVerified: boolean, isPaused = false, consent: ConsentTerms | null = GIVEN) => ({
  isVerified,
  isPaused,
  consent,
});
const guardians = fc.array(
  fc.record({
    isVerified: fc.boolean(),
    isPaused: fc.boolean(),
    consent: fc.constantFrom(GIVEN, LAPSED, WITHDRAWN, null),
  }),
  { maxLength: 4 },
);

describe('a login', () => {
  test.each([
    [12, false],
    [13, true],
    [40, true],
  ])('at %i: %s', (years, may) => expect(mayHaveLogin(aged(years), today)).toBe(may));
  test('not for somebody whose birth date is unknown', () => {
    expect(mayHaveLogin({ birthDate: null }, today)).toBe(false);
  });
  test('begins on the thirteenth birthday, in the zone of the program', () => {
    expect(mayHaveLogin({ birthDate: '2013-06-02' as Day }, today)).toBe(false);
    expect(mayHaveLogin({ birthDate: '2013-06-01' as Day }, today)).toBe(true);
  });
});

describe('minors by the day of their birth', () => {
  const anyDay = (min: string, max: string) =>
    fc.date({ min: new Date(min), max: new Date(max), noInvalidDate: true }).map(dayOfDate);
  test('are the same ones as one by one, on 29 February too', () => {
    fc.assert(
      fc.property(
        anyDay('2000-01-01', '2014-12-31'),
        fc.oneof(anyDay('2024-01-01', '2026-12-31'), fc.constant('2024-02-29' as Day)),
        (birthDate, onDay) => {
          expect(birthDate > minorsAreBornAfter(onDay)).toBe(isMinor({ birthDate }, onDay));
        },
      ),
    );
    expect(minorsAreBornAfter('2024-02-29' as Day) < '2006-03-01').toBe(true); // 17 until tomorrow
    expect(minorsAreBornAfter('2024-02-29' as Day) < '2006-02-28').toBe(false);
  });
});

describe('whether staff may write', () => {
  test.each([
    ['an adult without anybody', aged(18), [], 'open'],
    ['an adult whose guardian once paused', aged(18), [guardian(true, true)], 'open'],
    ['a minor without a guardian', aged(17), [], 'no-guardian'],
    ['a minor whose guardian is only named', aged(15), [guardian(false)], 'no-guardian'],
    ['a minor with a verified guardian', aged(11), [guardian(true)], 'open'],
    ['a minor with one verified and one named', aged(11), [guardian(true), guardian(false)], 'open'],
    ['a minor, one of two guardians has paused', aged(15), [guardian(true), guardian(true, true)], 'paused'],
    ['a minor whose consent ran out', aged(15), [guardian(true, false, LAPSED)], 'no-consent'],
    ['a minor without a consent', aged(15), [guardian(true, false, null)], 'no-consent'],
    [
      'a minor, the consent is of somebody only named',
      aged(15),
      [guardian(true, false, null), guardian(false)],
      'no-consent',
    ],
    [
      'a minor, one consent ran out and one stands',
      aged(15),
      [guardian(true, false, LAPSED), guardian(true)],
      'open',
    ],
    [
      'a minor, one of two guardians took the consent back',
      aged(15),
      [guardian(true), guardian(true, false, WITHDRAWN)],
      'withdrawn',
    ],
    ['an adult whose guardian took it back', aged(18), [guardian(true, false, WITHDRAWN)], 'open'],
    ['somebody of unknown age', { birthDate: null }, [], 'no-guardian'],
  ] as const)('%s', (_who, player, beside, contact) => {
    expect(staffContact(player, beside, today)).toBe(contact);
    expect(canStaffWrite(player, beside, today)).toBe(contact === 'open');
  });

  // SafeSport: electronic communication with a minor includes another adult. For every constellation there is.
  test('to a minor only beside a verified guardian and without any pause', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 60 }), guardians, (years, beside) => {
        const player = aged(years);
        if (!isMinor(player, today) || !canStaffWrite(player, beside, today)) return;
        expect(beside.some((one) => one.isVerified)).toBe(true);
        expect(beside.every((one) => !one.isPaused)).toBe(true);
        expect(beside.some((one) => one.isVerified && one.consent === GIVEN)).toBe(true);
        expect(beside.some((one) => one.isVerified && one.consent === WITHDRAWN)).toBe(false);
      }),
    );
  });

  test('one more pause never opens what was closed', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 60 }), guardians, (years, beside) => {
        if (canStaffWrite(aged(years), beside, today)) return;
        expect(canStaffWrite(aged(years), [...beside, guardian(true, true)], today)).toBe(false);
      }),
    );
  });
});
