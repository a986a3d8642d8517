import { expect, test } from 'vitest';
import { wholeWeek, type Week } from '@/lib/domain/desk/hours';
import { answeredWords, promiseWords, weekWords } from '@/lib/domain/desk/hours-words';
import type { Day } from '@/lib/domain/people/age';

const day = [{ from: 540, to: 1020 }];
const office: Week = [day, day, day, day, day, [], []];

test.each([
  ['Monday to Friday, 9 am to 5 pm', office],
  ['every day, round the clock', wholeWeek()],
  ['every day, 9 am to 5 pm', office.map(() => day)],
  ['Monday and Tuesday, 9 am to 5 pm', [day, day, [], [], [], [], []]],
  ['Monday, Wednesday and Friday, 9 am to 5 pm', [day, [], day, [], day, [], []]],
  [
    'Monday to Thursday, 9 am to 5 pm; Saturday, 9 am to noon',
    [day, day, day, day, [], [{ from: 540, to: 720 }], []],
  ],
  [
    'Sunday, 7:30 am to 8:05 am and 9 pm to midnight',
    [
      [],
      [],
      [],
      [],
      [],
      [],
      [
        { from: 450, to: 485 },
        { from: 1260, to: 1440 },
      ],
    ],
  ],
])('%s', (words, week) => {
  expect(weekWords(week)).toBe(words);
});

test('beside a promise only the days off that lie between are named', () => {
  const hours = {
    version: 1 as const,
    week: office,
    daysOff: [
      { from: '2026-11-26' as Day, to: '2026-11-26' as Day, name: 'Thanksgiving' },
      { from: '2026-12-24' as Day, to: '2027-01-01' as Day, name: 'winter break' },
    ],
  };
  const until = (to: string) => answeredWords(hours, '2026-11-25' as Day, to as Day);
  expect(until('2026-11-25')).toBe('Lessons are answered Monday to Friday, 9 am to 5 pm.');
  expect(until('2026-11-27')).toBe(
    'Lessons are answered Monday to Friday, 9 am to 5 pm, not on 26 November (Thanksgiving).',
  );
  expect(until('2027-01-04')).toContain(
    'not on 26 November (Thanksgiving) and 24 December to 1 January (winter break).',
  );
  expect(answeredWords(null, '2026-11-25' as Day, '2026-11-26' as Day)).toBeNull();
});

test('a promise says whether its hours are hours of work', () => {
  expect([
    promiseWords(48, null),
    promiseWords(1, null),
    promiseWords(16, { version: 1, week: office, daysOff: [] }),
  ]).toEqual(['48 hours', '1 hour', '16 working hours']);
});
