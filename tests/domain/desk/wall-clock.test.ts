import * as fc from 'fast-check';
import { afterEach, expect, test } from 'vitest';
import { fromWallClock, toWallClock } from '@/lib/domain/desk/wall-clock';

afterEach(() => {
  process.env.TZ = 'UTC';
});

// Daylight saving time began in the United States on 14 March 2027 at 2 am (15 U.S.C. 260a, from memory).
test.each([
  ['2027-03-13T18:30', '2027-03-14T00:30:00Z'],
  ['2027-03-14T18:30', '2027-03-14T23:30:00Z'],
  ['2027-03-14T02:30', '2027-03-14T08:30:00Z'],
  ['2027-11-07T01:30', '2027-11-07T06:30:00Z'],
])('%s in Chicago is %s, wherever the server stands', (local, instant) => {
  for (const zone of ['UTC', 'Asia/Kathmandu']) {
    process.env.TZ = zone;
    expect(fromWallClock(local, 'America/Chicago')).toEqual(new Date(instant));
  }
});

test.each(['soon', '', '2027-02-29T10:00', '2027-03-14T24:00', '2027-03-14', '2027-03-14T10:00:00Z'])(
  '“%s” is no time',
  (local) => {
    expect(fromWallClock(local, 'America/Chicago')).toBeNull();
  },
);

test('there and back again, to the minute', () => {
  const minutes = fc.integer({ min: 0, max: 20 * 525_600 }).map((n) => new Date(Date.UTC(2020, 0, 1, 0, n)));
  fc.assert(
    fc.property(minutes, fc.constantFrom('Asia/Kolkata', 'Pacific/Auckland', 'UTC'), (at, zone) => {
      const back = fromWallClock(toWallClock(at, zone), zone)!;
      // An hour that comes twice is read as its first.
      expect([0, 3_600_000]).toContain(at.getTime() - back.getTime());
    }),
  );
});
