import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { promisedBy } from '@/lib/domain/lessons/promise';
import { zoneWords } from '@/lib/domain/lessons/words';

test('48 hours are 48 hours, also over the night in which New York loses one', () => {
  // Daylight saving time begins on the second Sunday of March (15 U.S.C. 260a, from memory): 8 March 2026.
  const terms = { promiseHours: 48, hours: null, timeZone: 'America/New_York' };
  expect(promisedBy(new Date('2026-03-07T18:00:00Z'), terms)).toEqual(new Date('2026-03-09T18:00:00Z'));
});

test('round the clock a promise is whole hours after sending, whatever the day', () => {
  const instants = fc.date({ min: new Date('2020-01-01'), max: new Date('2035-01-01'), noInvalidDate: true });
  fc.assert(
    fc.property(instants, fc.integer({ min: 1, max: 336 }), (at, hours) => {
      const promise = promisedBy(at, { promiseHours: hours, hours: null, timeZone: 'America/New_York' });
      expect(promise.getTime() - at.getTime()).toBe(hours * 3_600_000);
    }),
  );
});

// As the catcher sees it a right-handed hitter stands on the left, so that column is inside for a righty: geometry of
// the plate and its two boxes (Official Baseball Rules, appendix 2; from memory).
test.each([
  [0, 'right', { height: 'High', side: 'inside' }],
  [0, 'left', { height: 'High', side: 'outside' }],
  [0, null, { height: 'High', side: 'catcher’s left' }],
  [2, null, { height: 'High', side: 'catcher’s right' }],
  [4, 'left', { height: 'Middle height', side: 'middle' }],
  [8, 'right', { height: 'Low', side: 'outside' }],
  [8, 'left', { height: 'Low', side: 'inside' }],
] as const)('cell %i of the plate grid, batting %s', (zone, bats, words) => {
  expect(zoneWords(zone, bats)).toEqual(words);
});

test.each([-1, 9, 1.5, NaN])('%d is no cell of the grid', (zone) => {
  expect(zoneWords(zone, 'right')).toBeNull();
});
