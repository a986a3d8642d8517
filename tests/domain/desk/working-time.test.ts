import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { hoursOfCoach, hoursSchema, wholeWeek, type Week, type WorkingHours } from '@/lib/domain/desk/hours';
import { addWorkingMinutes, isWorking, nextWorking } from '@/lib/domain/desk/working-time';
import type { Day } from '@/lib/domain/people/age';

const MINUTE = 60_000;
const nine: Week = [0, 1, 2, 3, 4, 5, 6].map((day) => (day < 5 ? [{ from: 540, to: 1020 }] : []));
const office = (daysOff: WorkingHours['daysOff'] = []): WorkingHours => ({ version: 1, week: nine, daysOff });
const off = (from: string, to = from, name = 'Holiday') => ({ from: from as Day, to: to as Day, name });
const at = (text: string) => new Date(text);

describe('Monday to Friday, 9 am to 5 pm in Chicago', () => {
  // Thanksgiving is the fourth Thursday of November (5 U.S.C. 6103): the 26th in 2026. Central standard time is six
  // hours behind UTC (15 U.S.C. 261 and 49 CFR 71, from memory).
  const clock = {
    hours: office([off('2026-11-26', '2026-11-26', 'Thanksgiving')]),
    timeZone: 'America/Chicago',
  };
  test.each([
    ['within a day', '2026-11-23T16:00:00Z', 2, '2026-11-23T18:00:00Z'],
    ['until closing time, not a minute more', '2026-11-23T15:00:00Z', 8, '2026-11-23T23:00:00Z'],
    ['over the night', '2026-11-23T22:00:00Z', 2, '2026-11-24T16:00:00Z'],
    ['sent at night, counted from the morning', '2026-11-24T05:00:00Z', 1, '2026-11-24T16:00:00Z'],
    ['over the holiday', '2026-11-25T22:00:00Z', 2, '2026-11-27T16:00:00Z'],
    ['over the weekend', '2026-11-27T22:30:00Z', 1, '2026-11-30T15:30:00Z'],
    ['sent on Saturday', '2026-11-28T18:00:00Z', 8, '2026-11-30T23:00:00Z'],
  ])('%s', (_, sent, hours, promised) => {
    expect(addWorkingMinutes(at(sent), hours * 60, clock)).toEqual(at(promised));
  });
});

describe('the nights on which clocks are changed', () => {
  // Daylight saving time in the United States: second Sunday of March to first Sunday of November, at 2 am
  // (15 U.S.C. 260a, from memory): 8 March and 1 November 2026.
  const night = (from: number, to: number): WorkingHours => ({
    version: 1,
    week: wholeWeek().map(() => [{ from: from * 60, to: to * 60 }]),
    daysOff: [],
  });
  const york = 'America/New_York';
  test('from 1 to 4 there are two hours of work when one is skipped, four when one comes twice', () => {
    const clock = { hours: night(1, 4), timeZone: york };
    expect(addWorkingMinutes(at('2026-03-08T05:00:00Z'), 120, clock)).toEqual(at('2026-03-08T08:00:00Z'));
    expect(addWorkingMinutes(at('2026-03-08T05:00:00Z'), 121, clock)).toEqual(at('2026-03-09T05:01:00Z'));
    expect(addWorkingMinutes(at('2026-11-01T04:00:00Z'), 240, clock)).toEqual(at('2026-11-01T09:00:00Z'));
  });
  test('work that begins in the skipped hour begins with the next minute that there is', () => {
    const clock = {
      hours: { ...night(2, 5), week: wholeWeek().map(() => [{ from: 150, to: 300 }]) },
      timeZone: york,
    };
    expect(nextWorking(at('2026-03-08T05:00:00Z'), clock)).toEqual(at('2026-03-08T07:00:00Z'));
  });
  test('nine in the morning stays nine in the morning', () => {
    const clock = { hours: office(), timeZone: york };
    expect(nextWorking(at('2026-03-06T23:00:00Z'), clock)).toEqual(at('2026-03-09T13:00:00Z'));
    expect(nextWorking(at('2026-10-30T22:00:00Z'), clock)).toEqual(at('2026-11-02T14:00:00Z'));
  });
  test('days off end with their own last night, also when the clocks are changed in between', () => {
    const clock = {
      hours: { ...office([off('2026-03-02', '2026-03-15', 'Away')]), week: wholeWeek() },
      timeZone: york,
    };
    expect(nextWorking(at('2026-03-05T12:00:00Z'), clock)).toEqual(at('2026-03-16T04:00:00Z'));
  });
});

// The reference counts minute by minute on the runtime's own clocks, read through Intl.
const countedMinutes = (start: Date, minutes: number, hours: WorkingHours, timeZone: string): Date => {
  const format = new Intl.DateTimeFormat('en-CA', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    weekday: 'short',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  });
  let [now, left] = [start.getTime(), minutes];
  while (left > 0) {
    const part = Object.fromEntries(format.formatToParts(now).map(({ type, value }) => [type, value]));
    const day = `${part.year}-${part.month}-${part.day}`;
    const minute = Number(part.hour) * 60 + Number(part.minute);
    const weekday = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'].indexOf(part.weekday!);
    const isOff = hours.daysOff.some((one) => one.from <= day && day <= one.to);
    if (!isOff && hours.week[weekday]!.some(({ from, to }) => from <= minute && minute < to)) left -= 1;
    now += MINUTE;
  }
  return new Date(now);
};

// Places whose clocks do something odd: half an hour of summer time, a change at midnight, a day that was skipped, an
// offset that is no whole hour.
const zones = [
  'America/New_York',
  'America/St_Johns',
  'Australia/Lord_Howe',
  'Asia/Beirut',
  'Asia/Kathmandu',
  'Pacific/Apia',
  'Africa/Cairo',
  'UTC',
];
const stretches = fc
  .uniqueArray(fc.integer({ min: 0, max: 48 }), { minLength: 2, maxLength: 4 })
  .map((cuts) => cuts.sort((a, b) => a - b).map((cut) => cut * 30))
  .map((cuts) =>
    cuts.flatMap((from, i) => (i % 2 === 0 && cuts[i + 1] !== undefined ? [{ from, to: cuts[i + 1]! }] : [])),
  );
const weeks = fc.array(fc.oneof({ weight: 4, arbitrary: stretches }, fc.constant<Week[number]>([])), {
  minLength: 7,
  maxLength: 7,
});
// Around changes of clocks, and around the day that Samoa left out (30 December 2011).
const starts = fc
  .tuple(
    fc.constantFrom(
      '2026-03-06',
      '2026-03-27',
      '2026-04-03',
      '2026-10-02',
      '2026-10-30',
      '2011-12-28',
      '2026-04-23',
    ),
    fc.integer({ min: 0, max: 5 * 1440 }),
  )
  .map(([day, minute]) => new Date(Date.parse(`${day}T00:00:00Z`) + minute * MINUTE));
const arranged = fc
  .tuple(weeks, fc.constantFrom(...zones), starts, fc.integer({ min: 1, max: 600 }), fc.boolean())
  .map(([week, timeZone, start, minutes, isAway]) => {
    const day = new Date(start.getTime() + 86_400_000).toISOString().slice(0, 10);
    const after = new Date(start.getTime() + 4 * 86_400_000).toISOString().slice(0, 10);
    return {
      hours: { version: 1 as const, week, daysOff: isAway ? [off(day, after)] : [] },
      timeZone,
      start,
      minutes,
    };
  })
  .filter(({ hours }) => hoursSchema.safeParse(hours).success);

describe('whatever the week, the zone and the days off', () => {
  test('the promise is what counting minute by minute says, and lies in working time', () => {
    fc.assert(
      fc.property(arranged, ({ hours, timeZone, start, minutes }) => {
        const promise = addWorkingMinutes(start, minutes, { hours, timeZone });
        expect(promise).toEqual(countedMinutes(start, minutes, hours, timeZone));
        expect(isWorking(new Date(promise.getTime() - 1), { hours, timeZone })).toBe(true);
      }),
      { numRuns: 120 },
    );
  });
  test('what is sent later is never promised earlier, and more hours never mean an earlier promise', () => {
    fc.assert(
      fc.property(arranged, fc.nat({ max: 3000 }), fc.nat({ max: 90 }), (one, later, more) => {
        const promise = (minutesLater: number, minutesMore: number) =>
          addWorkingMinutes(
            new Date(one.start.getTime() + minutesLater * MINUTE),
            one.minutes + minutesMore,
            one,
          );
        expect(promise(later, 0).getTime()).toBeGreaterThanOrEqual(promise(0, 0).getTime());
        expect(promise(0, more).getTime()).toBeGreaterThanOrEqual(promise(0, 0).getTime());
      }),
    );
  });
  test('the next working time is working time, and nothing before it is', () => {
    fc.assert(
      fc.property(arranged, ({ hours, timeZone, start }) => {
        const next = nextWorking(start, { hours, timeZone });
        expect(isWorking(next, { hours, timeZone })).toBe(true);
        if (next > start) expect(isWorking(new Date(next.getTime() - 1), { hours, timeZone })).toBe(false);
      }),
    );
  });
});

describe('hours of one’s own', () => {
  const program = office([off('2026-12-25')]);
  test('days off come on top of the program’s', () => {
    const own = { version: 1 as const, week: null, daysOff: [off('2026-12-28', '2026-12-30', 'Away')] };
    expect(hoursOfCoach(program, own)).toEqual(office([...program.daysOff, ...own.daysOff]));
  });
  test('another week takes the place of the program’s, the holidays stay', () => {
    const own = { version: 1 as const, week: wholeWeek(), daysOff: [] };
    expect(hoursOfCoach(program, own)).toEqual({ ...program, week: wholeWeek() });
  });
  test('away from a program that works round the clock', () => {
    const own = { version: 1 as const, week: null, daysOff: [off('2026-12-28')] };
    expect(hoursOfCoach(null, own)).toEqual({ version: 1, week: wholeWeek(), daysOff: own.daysOff });
    expect(hoursOfCoach(null, null)).toBeNull();
    expect(hoursOfCoach(null, { ...own, daysOff: [] })).toBeNull();
  });
});

describe('hours that are no hours are refused', () => {
  const refused: [string, unknown][] = [
    ['a week in which nobody works', { ...office(), week: nine.map(() => []) }],
    ['a week of six days', { ...office(), week: nine.slice(1) }],
    [
      'a stretch that ends before it begins',
      { ...office(), week: [[{ from: 600, to: 540 }], ...nine.slice(1)] },
    ],
    [
      'two stretches over one another',
      {
        ...office(),
        week: [
          [
            { from: 0, to: 600 },
            { from: 540, to: 700 },
          ],
          ...nine.slice(1),
        ],
      },
    ],
    ['an hour after midnight', { ...office(), week: [[{ from: 1400, to: 1500 }], ...nine.slice(1)] }],
    ['a day off that the calendar does not have', office([off('2026-02-29')])],
    ['days off that end before they begin', office([off('2026-12-31', '2026-12-24')])],
    ['a day off without a name', office([off('2026-12-25', '2026-12-25', ' ')])],
    ['more days off than anybody reads', office(Array.from({ length: 61 }, () => off('2026-12-25')))],
  ];
  test.each(refused)('%s', (_, hours) => {
    expect(hoursSchema.safeParse(hours).success).toBe(false);
  });
});
