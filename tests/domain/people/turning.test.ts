import { describe, expect, test } from 'vitest';
import type { Day } from '@/lib/domain/people/age';
import { turnedLately } from '@/lib/domain/people/turning';

describe('an age after which other rules hold', () => {
  test.each([
    ['2013-11-26', null], // 13 tomorrow
    ['2013-11-25', 13],
    ['2013-11-19', 13],
    ['2013-11-18', null], // a week ago and told by then
    ['2008-11-26', null],
    ['2008-11-25', 18],
    ['2008-11-19', 18],
    ['2008-11-18', null],
    ['2011-11-25', null], // 15 today
  ] as const)('born %s, seen on 25 November 2026: %s', (birth, age) => {
    expect(turnedLately(birth as Day, '2026-11-25' as Day)).toBe(age);
  });

  test('born on 29 February it is 1 March of a common year', () => {
    expect(turnedLately('2008-02-29' as Day, '2026-02-28' as Day)).toBeNull();
    expect(turnedLately('2008-02-29' as Day, '2026-03-01' as Day)).toBe(18);
  });
});
