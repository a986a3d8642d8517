import { describe, expect, test } from 'vitest';
import { careReasons, shownAge, type CareFacts } from '@/lib/domain/desk/care';
import type { Day } from '@/lib/domain/people/age';

const TODAY = '2026-06-01' as Day;
const CONSENT = { expiresAt: new Date('2027-01-01'), withdrawnAt: null };
const GUARDIAN = { verifiedAt: new Date('2026-01-01'), pausedAt: null, consent: CONSENT };
const facts = (over: Partial<CareFacts> = {}): CareFacts => ({
  birthDate: '2001-01-01',
  guardians: [],
  painLevel: 0,
  painWhere: null,
  clipsFailed: 0,
  ...over,
});

describe('why a lesson needs care', () => {
  test.each<[string, Partial<CareFacts>, string[]]>([
    ['an adult without pain', {}, []],
    ['pain not answered', { painLevel: null }, []],
    ['pain with its place', { painLevel: 4, painWhere: ' elbow ' }, ['Pain 4, elbow. Drills wait']],
    ['pain without one', { painLevel: 1 }, ['Pain 1. Drills wait']],
    ['a minor without a guardian', { birthDate: '2012-06-01' }, ['No guardian yet. Cannot be returned']],
    ['an unknown birth date counts as a minor', { birthDate: null }, ['No guardian yet. Cannot be returned']],
    ['a minor with one', { birthDate: '2012-06-01', guardians: [GUARDIAN] }, []],
    [
      'a guardian who is not verified is none',
      { birthDate: '2012-06-01', guardians: [{ verifiedAt: null, pausedAt: null, consent: null }] },
      ['No guardian yet. Cannot be returned'],
    ],
    [
      'one of two has paused',
      { birthDate: '2012-06-01', guardians: [GUARDIAN, { ...GUARDIAN, pausedAt: new Date('2026-05-01') }] },
      ['A guardian has paused contact. Cannot be returned'],
    ],
    ['a failed clip', { clipsFailed: 1 }, ['A clip needs another try']],
    ['failed clips', { clipsFailed: 2 }, ['Clips need another try']],
    ['18 today', { birthDate: '2008-06-01' }, []],
    ['18 tomorrow', { birthDate: '2008-06-02' }, ['No guardian yet. Cannot be returned']],
  ])('%s', (_what, over, reasons) => {
    expect(careReasons(facts(over), TODAY)).toEqual(reasons);
  });

  test('pain stands first, then contact, then clips', () => {
    const all = careReasons(facts({ birthDate: '2012-06-01', painLevel: 2, clipsFailed: 1 }), TODAY);
    expect(all.map((reason) => reason.split(' ')[0])).toEqual(['Pain', 'No', 'A']);
  });
});

test.each([
  [null, null],
  ['2008-06-01', null],
  ['2008-06-02', 17],
  ['2015-12-31', 10],
])('born %s, the desk shows the age %s', (birthDate, age) => {
  expect(shownAge(birthDate, TODAY)).toBe(age);
});
