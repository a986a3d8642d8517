import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  clockOfMs,
  fragmentOfMoment,
  lengthOfMs,
  momentOfFragment,
} from '@/lib/domain/breakdowns/moment-link';

// Media Fragments URI 1.0 (basic), W3C Recommendation 25 September 2012, https://www.w3.org/TR/media-frags/:
// the examples of section 4.2.1 (from memory: t=10,20; t=,20; t=10; t=npt:10,20; t=120,121.5; t=0:02:00,0:02:01.5).
describe('a moment in an address', () => {
  test.each([
    ['t=10,20', 10_000],
    ['t=,20', 0],
    ['t=10', 10_000],
    ['t=npt:10,20', 10_000],
    ['t=npt:120,121.5', 120_000],
    ['t=npt:0:02:00,121.5', 120_000],
    ['t=0:02:00,0:02:01.5', 120_000],
    ['#t=83.5', 83_500],
    ['t=1:23', 83_000],
    ['t=%6ept:10', 10_000],
    ['%74=10', 10_000],
    ['t=5&t=9', 9000],
    ['xywh=1,2,3,4&t=9', 9000],
  ])('%s is read as it says', (fragment, ms) => expect(momentOfFragment(fragment)).toBe(ms));

  test.each([
    '',
    'swing',
    't=',
    't=-5',
    't=5,3',
    't=5,5',
    't=1:75',
    't=99:99',
    't=5,6,7',
    't=%',
    't=smpte:0:00:05',
  ])('%s names no moment', (fragment) => expect(momentOfFragment(fragment)).toBeNull());

  test('what is written is read again', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 600_000 }), (ms) => {
        expect(momentOfFragment(fragmentOfMoment(ms))).toBe(ms);
      }),
    );
  });

  test('it is said as people say it', () => {
    expect([0, 999, 83_500, 600_000].map(clockOfMs)).toEqual(['0:00', '0:00', '1:23', '10:00']);
    expect([200, 48_000, 108_000, 120_000].map(lengthOfMs)).toEqual(['1 s', '48 s', '1 min 48 s', '2 min']);
  });
});
