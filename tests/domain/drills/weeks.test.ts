import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drillWeekWords, mondayOf, practiceWeeks, type Practised } from '@/lib/domain/drills/weeks';
import { dayOfDate, type Day } from '@/lib/domain/people/age';

const d = (text: string) => text as Day;
const drill = (over: Partial<Practised> = {}): Practised => ({
  title: 'Outer-third tee',
  from: d('2026-05-04'),
  until: null,
  pausedFrom: null,
  daysAWeek: 3,
  days: [],
  ...over,
});
const words = (one: Practised, today = d('2026-05-24')) =>
  practiceWeeks([one], { upTo: today, count: 3, today }).map((week) => [
    week.monday,
    ...week.drills.map(drillWeekWords),
  ]);

describe('the Monday of a week', () => {
  // A calendar of 2026: 4 May is a Monday; 1 January 2026 is a Thursday of the week of 29 December 2025.
  test.each([
    ['2026-05-04', '2026-05-04'],
    ['2026-05-10', '2026-05-04'],
    ['2026-05-11', '2026-05-11'],
    ['2026-01-01', '2025-12-29'],
  ])('of %s is %s', (day, monday) => expect(mondayOf(d(day))).toBe(monday));

  test('is by the calendar alone: every day of a week has the same, whatever the clocks do', () => {
    const start = Date.UTC(2020, 0, 6);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4000 }), (n) => {
        const monday = dayOfDate(new Date(start + Math.floor(n / 7) * 7 * 86_400_000));
        expect(mondayOf(dayOfDate(new Date(start + n * 86_400_000)))).toBe(monday);
      }),
    );
  });
});

describe('practice week by week', () => {
  test('a day counts once, a week that is over is kept or missed, the present one goes on', () => {
    const one = drill({
      days: ['2026-05-05', '2026-05-05', '2026-05-06', '2026-05-08', '2026-05-12', '2026-05-19'].map(d),
    });
    expect(words(one)).toEqual([
      ['2026-05-18', '1 of 3 days so far'],
      ['2026-05-11', '1 of 3 days, 2 missed'],
      ['2026-05-04', '3 of 3 days, kept'],
    ]);
  });

  test('asks for no more days than the drill was open in the week', () => {
    expect(words(drill({ from: d('2026-05-09'), until: d('2026-05-11') }))).toEqual([
      ['2026-05-11', '0 of 1 day, 1 missed'],
      ['2026-05-04', '0 of 2 days, 2 missed'],
    ]);
  });

  test('says paused where it is, and kept where enough was done before', () => {
    expect(words(drill({ pausedFrom: d('2026-05-13'), daysAWeek: 1, days: [d('2026-05-12')] }))).toEqual([
      ['2026-05-18', '0 of 1 day, paused'],
      ['2026-05-11', '1 of 1 day, kept'],
      ['2026-05-04', '0 of 1 day, 1 missed'],
    ]);
  });

  test('leaves out weeks in which nothing was given', () => {
    expect(words(drill({ from: d('2026-05-18') }))).toHaveLength(1);
    expect(words(drill({ until: d('2026-05-05') }), d('2026-08-01'))).toEqual([]);
  });
});
