import * as fc from 'fast-check';
import { afterEach, describe, expect, test } from 'vitest';
import { afterQuietHours } from '@/lib/domain/notices/quiet-hours';

// The reference is the runtime's own time zone data, read through Intl: another way to the same clock.
const clockOf = (zone: string) => {
  const format = new Intl.DateTimeFormat('en-US', {
    timeZone: zone,
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
    hourCycle: 'h23',
  });
  return (at: Date) => format.format(at);
};
const MINUTE = 60_000;

afterEach(() => {
  process.env.TZ = 'UTC';
});

describe('the quiet hours of New York', () => {
  const at = (text: string) => new Date(text);
  test.each([
    // Eastern daylight time is four hours behind UTC.
    ['19:59:59 is not quiet', '2026-06-01T23:59:59Z', '2026-06-01T23:59:59Z'],
    ['20:00 waits for the morning', '2026-06-02T00:00:00Z', '2026-06-02T12:00:00Z'],
    ['midnight waits for the same morning', '2026-06-02T04:00:00Z', '2026-06-02T12:00:00Z'],
    ['07:59:59 waits a second', '2026-06-02T11:59:59Z', '2026-06-02T12:00:00Z'],
    ['08:00 is not quiet', '2026-06-02T12:00:00Z', '2026-06-02T12:00:00Z'],
    ['the last night of a month', '2026-07-01T02:00:00Z', '2026-07-01T12:00:00Z'],
    ['New Year’s Eve', '2027-01-01T03:00:00Z', '2027-01-01T13:00:00Z'],
    ['the evening before clocks go forward', '2026-03-08T02:00:00Z', '2026-03-08T12:00:00Z'],
    ['the evening before clocks go back', '2026-11-01T01:00:00Z', '2026-11-01T13:00:00Z'],
  ])('%s', (_what, from, to) => {
    expect(afterQuietHours(at(from), 'America/New_York')).toEqual(at(to));
  });

  test.each([
    ['the day clocks go forward', '2026-03-08T00:00:00Z'],
    ['the day clocks go back', '2026-11-01T00:00:00Z'],
    ['a day like any other', '2026-06-10T00:00:00Z'],
  ])('%s: every minute of two days', (_what, from) => {
    const clock = clockOf('America/New_York');
    for (let minute = 0; minute < 2 * 24 * 60; minute += 1) {
      const asked = new Date(at(from).getTime() + minute * MINUTE);
      const told = afterQuietHours(asked, 'America/New_York');
      const [before, after] = [clock(asked), clock(told)];
      const isQuiet = before >= '20:00:00' || before < '08:00:00';
      if (isQuiet) {
        expect([before, after]).toEqual([before, '08:00:00']);
        expect(told.getTime() - asked.getTime()).toBeLessThanOrEqual(13 * 60 * MINUTE);
      } else expect(told).toEqual(asked);
      expect(told.getTime()).toBeGreaterThanOrEqual(asked.getTime());
    }
  });
});

test('holds in every zone, on a machine in any other', () => {
  const zones = [
    'America/New_York',
    'Asia/Kathmandu',
    'Australia/Lord_Howe',
    'America/St_Johns',
    'Pacific/Apia',
  ];
  const instants = fc.date({ min: new Date('2024-01-01'), max: new Date('2030-01-01'), noInvalidDate: true });
  fc.assert(
    fc.property(
      instants,
      fc.constantFrom(...zones),
      fc.constantFrom(...zones, 'UTC'),
      (asked, zone, machine) => {
        process.env.TZ = machine;
        const told = afterQuietHours(asked, zone);
        const clock = clockOf(zone);
        expect(told.getTime()).toBeGreaterThanOrEqual(asked.getTime());
        expect(clock(told) >= '08:00:00' && clock(told) < '20:00:00').toBe(true);
        // Asked again at that instant, nothing moves.
        expect(afterQuietHours(told, zone)).toEqual(told);
      },
    ),
    { numRuns: 300 },
  );
});
