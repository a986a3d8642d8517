import { addDays, addHours, addMinutes, subDays, subHours, subMinutes } from 'date-fns';
import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { consentNews, NEAR_HOURS, paymentWindow, promiseNews, promiseWindow } from '@/lib/domain/notices/due';
import { isChoosable, kindsFor, mailFor, noticeKinds } from '@/lib/domain/notices/notice';
import { lastMorning, quietUntil } from '@/lib/domain/notices/quiet-hours';
import { stoppable } from '@/lib/domain/notices/stop';
import type { Day } from '@/lib/domain/people/age';

const NOW = new Date('2026-06-01T17:00:00Z');

describe('a promise', () => {
  const of = (promisedAt: Date, submittedAt = subDays(promisedAt, 2)) =>
    promiseNews({ promisedAt, submittedAt }, NOW);
  test.each([
    ['six hours and a minute ahead', addMinutes(NOW, 361), null],
    ['six hours ahead', addHours(NOW, NEAR_HOURS), 'near'],
    ['a minute ahead', addMinutes(NOW, 1), 'near'],
    ['now', NOW, 'missed'],
    ['a minute ago', subMinutes(NOW, 1), 'missed'],
    ['a week ago', subDays(NOW, 7), null],
  ])('%s', (_what, promisedAt, news) => {
    expect(of(promisedAt)).toBe(news);
  });

  test('that was near from the beginning is not near news', () => {
    expect(of(addHours(NOW, 3), subHours(NOW, 1))).toBeNull();
    expect(of(addHours(NOW, 3), subHours(NOW, 4))).toBe('near');
  });

  test('with news always lies in the window that is looked through', () => {
    const instants = fc.integer({ min: -20_000, max: 20_000 });
    fc.assert(
      fc.property(instants, fc.integer({ min: 0, max: 20_000 }), (minutes, before) => {
        const promisedAt = addMinutes(NOW, minutes);
        if (!promiseNews({ promisedAt, submittedAt: subMinutes(promisedAt, before) }, NOW)) return;
        const { after, until } = promiseWindow(NOW);
        expect(promisedAt > after && promisedAt <= until).toBe(true);
      }),
    );
  });
});

test('a payment is looked for three days ahead and a week back', () => {
  expect(paymentWindow(NOW)).toEqual({ after: subDays(NOW, 7), until: addDays(NOW, 3) });
});

test.each([
  [31, null],
  [30, 30],
  [8, 30],
  [7, 7],
  [1, 7],
  [0, null],
  [-1, null],
])('a consent that ends in %d days: warning %s', (days, news) => {
  expect(consentNews(addDays(NOW, days), NOW)).toBe(news);
});

describe('choices', () => {
  const SAFETY = [
    'pain-reported',
    'contact-paused',
    'concern-raised',
    'erasure-asked',
    'erasure-cancelled',
    'age-turned',
  ];

  test('what keeps somebody from harm or loss is at once whatever was chosen, and cannot be ended', () => {
    expect(noticeKinds.filter((kind) => !isChoosable(kind)).sort()).toEqual([...SAFETY].sort());
    for (const kind of noticeKinds) {
      expect(stoppable(kind)).toBe(isChoosable(kind) ? kind : null);
      expect(mailFor(kind, 'off')).toBe(isChoosable(kind) ? 'off' : 'at-once');
      expect(mailFor(kind, 'daily')).toBe(isChoosable(kind) ? 'daily' : 'at-once');
    }
    expect([stoppable('digest'), stoppable('invitation'), stoppable('erased')]).toEqual([
      'digest',
      null,
      null,
    ]);
  });

  test('each role chooses among what it can be told of, and nobody among nothing', () => {
    expect(kindsFor(['player'])).not.toContain('promise-near');
    expect(kindsFor(['coach'])).toContain('promise-near');
    expect(kindsFor(['coach'])).not.toContain('concern-raised');
    expect(kindsFor(['lead'])).toContain('concern-raised');
    expect(kindsFor(['guardian'])).toEqual(kindsFor(['player']));
    expect(kindsFor([])).toEqual([]);
  });
});

describe('eight in the morning', () => {
  test.each([
    // Central daylight time is five hours behind UTC.
    ['at eight', '2026-06-02T13:00:00Z', '2026-06-02T13:00:00Z'],
    ['a moment before', '2026-06-02T12:59:59Z', '2026-06-01T13:00:00Z'],
    ['at midnight', '2026-06-02T05:00:00Z', '2026-06-01T13:00:00Z'],
    ['in the evening', '2026-06-03T02:00:00Z', '2026-06-02T13:00:00Z'],
    ['the day clocks went forward', '2026-03-08T14:00:00Z', '2026-03-08T13:00:00Z'],
    ['on the first of a month', '2026-07-01T06:00:00Z', '2026-06-30T13:00:00Z'],
  ])('%s', (_what, now, morning) => {
    expect(lastMorning(new Date(now), 'America/Chicago')).toEqual(new Date(morning));
  });
});

test('a reader waits at night only as a player under 18, or of unknown age', () => {
  const night = new Date('2026-06-02T03:00:00Z');
  const timeZone = 'America/Chicago';
  const until = (birthDate: string | null, isPlayer: boolean) =>
    quietUntil({ birthDate: birthDate as Day | null, isPlayer, timeZone }, night);
  const morning = new Date('2026-06-02T13:00:00Z');
  expect(until('2011-01-01', true)).toEqual(morning);
  expect(until(null, true)).toEqual(morning);
  expect(until('2000-01-01', true)).toEqual(night);
  expect(until(null, false)).toEqual(night);
});
