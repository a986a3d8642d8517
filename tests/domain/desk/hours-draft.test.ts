import { describe, expect, test } from 'vitest';
import { wholeWeek } from '@/lib/domain/desk/hours';
import { draftOfHours, hoursOfDraft, type HoursDraft } from '@/lib/domain/desk/hours-draft';
import type { Day } from '@/lib/domain/people/age';

const nine = { from: '09:00', to: '17:00' };
const draft = (change: Partial<HoursDraft> = {}): HoursDraft => ({
  week: [[nine], [nine], [nine], [nine], [nine], [], []],
  daysOff: [],
  ...change,
});
const monday = (...stretches: HoursDraft['week'][number]) =>
  draft({ week: [stretches, [nine], [], [], [], [], []] });
const off = (from: string, to = '', name = 'Thanksgiving') => draft({ daysOff: [{ from, to, name }] });

test('hours become a draft and the same hours again, the end of a day as midnight', () => {
  const week = [
    [{ from: 0, to: 1440 }],
    [
      { from: 545, to: 720 },
      { from: 780, to: 1440 },
    ],
    ...wholeWeek().slice(2),
  ];
  const daysOff = [{ from: '2026-11-26' as Day, to: '2026-11-27' as Day, name: 'Thanksgiving' }];
  const drafted = draftOfHours(week, daysOff);
  expect(drafted.week[1]).toEqual([
    { from: '09:05', to: '12:00' },
    { from: '13:00', to: '00:00' },
  ]);
  expect(hoursOfDraft(drafted)).toEqual({ hours: { version: 1, week, daysOff } });
});

test('stretches and days off are put in order, a last day left open is the first', () => {
  const written = draft({
    week: [
      [
        { from: '13:00', to: '17:00' },
        { from: '09:00', to: '12:00' },
      ],
      [],
      [],
      [],
      [],
      [],
      [],
    ],
    daysOff: [
      { from: '2026-12-25', to: '', name: ' Christmas ' },
      { from: '2026-11-26', to: '2026-11-27', name: 'Thanksgiving' },
    ],
  });
  expect(hoursOfDraft(written)).toMatchObject({
    hours: {
      week: [
        [
          { from: 540, to: 720 },
          { from: 780, to: 1020 },
        ],
        [],
        [],
        [],
        [],
        [],
        [],
      ],
      daysOff: [{ name: 'Thanksgiving' }, { from: '2026-12-25', to: '2026-12-25', name: 'Christmas' }],
    },
  });
});

describe('what does not fit is told in one sentence', () => {
  test.each([
    ['Write both times of Monday, or remove the line.', monday({ from: '09:00', to: '' })],
    ['On Monday work ends before it begins.', monday({ from: '17:00', to: '09:00' })],
    ['The hours of Monday lie over one another.', monday(nine, { from: '16:00', to: '18:00' })],
    ['A week needs one hour of work at least.', draft({ week: [[], [], [], [], [], [], []] })],
    [
      'Three stretches a day at most.',
      monday(...[1, 3, 5, 7].map((h) => ({ from: `0${h}:00`, to: `0${h + 1}:00` }))),
    ],
    ['Give every line of days off a name, like Thanksgiving.', off('2026-11-26', '', ' ')],
    ['Write the day of “Thanksgiving”.', off('')],
    ['Write the day of “Thanksgiving”.', off('2026-11-26', '2026-11-31')],
    ['The last day of “Thanksgiving” is before its first.', off('2026-11-26', '2026-11-25')],
  ])('%s', (fault, written) => {
    expect(hoursOfDraft(written)).toEqual({ fault });
  });
});
