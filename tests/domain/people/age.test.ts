import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ageOn, dateOfDay, dayIn, dayOfDate, daySchema, isDay, type Day } from '@/lib/domain/people/age';

const day = (text: string) => daySchema.parse(text);
const anyDay = fc
  .date({ min: new Date('1900-01-01'), max: new Date('2100-12-31'), noInvalidDate: true })
  .map((date) => dayOfDate(date));

describe('a day', () => {
  test.each(['2024-02-29', '2000-02-29', '2026-12-31', '2026-01-01'])('%s is one', (text) => {
    expect(isDay(text)).toBe(true);
  });
  // 1900 and 2100 are no leap years, 2000 is (Gregorian rule).
  test.each([
    '2026-02-29',
    '1900-02-29',
    '2100-02-29',
    '2026-04-31',
    '2026-13-01',
    '2026-00-10',
    '26-1-1',
    '',
  ])('"%s" is none', (text) => expect(isDay(text)).toBe(false));
  test('the rule agrees with the calendar of the machine', () => {
    fc.assert(fc.property(anyDay, (one) => isDay(one) && dayOfDate(dateOfDay(one)) === one));
  });
  test('is the one of the zone, not of UTC', () => {
    const late = new Date('2026-06-02T03:30:00Z');
    expect(dayIn('America/Chicago', late)).toBe('2026-06-01');
    expect(dayIn('Asia/Tokyo', late)).toBe('2026-06-02');
  });
});

describe('age', () => {
  test.each([
    ['2013-06-02', '2026-06-01', 12],
    ['2013-06-01', '2026-06-01', 13],
    ['2013-05-31', '2026-06-01', 13],
    ['2008-02-29', '2026-02-28', 17],
    ['2008-02-29', '2026-03-01', 18],
    ['2026-06-01', '2026-06-01', 0],
    ['2026-06-02', '2026-06-01', -1],
  ])('born %s is on %s aged %i', (birth, today, age) => {
    expect(ageOn(day(birth), day(today))).toBe(age);
  });
  test('never goes down as days pass, and goes up by one a year', () => {
    const later = (one: Day, years: number) => `${Number(one.slice(0, 4)) + years}${one.slice(4)}` as Day;
    fc.assert(
      fc.property(anyDay, anyDay, anyDay, (birth, a, b) => {
        const [first, second] = a <= b ? [a, b] : [b, a];
        expect(ageOn(birth, first)).toBeLessThanOrEqual(ageOn(birth, second));
        expect(ageOn(birth, later(first, 1))).toBe(ageOn(birth, first) + 1);
      }),
    );
  });
});
