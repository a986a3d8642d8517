import { describe, expect, it } from 'vitest';
import { clockWords, dayWords, spanWords } from '@/app/_ui/moment';
import { leftWords, lengthWords, sentWords, sizeWords } from '@/app/lessons/new/_send/size-words';
import { viewWords } from '@/app/lessons/new/_send/view-words';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';
import { zoneWords } from '@/lib/domain/lessons/words';

describe('where the ball was, in words', () => {
  // The catcher faces the pitcher with third base on the left; a righty's box is on the third-base side of the plate
  // (Official Baseball Rules, diagram 2: batter's boxes). So inside is left for a righty and right for a lefty.
  it.each([
    [3, 'right', 'Middle height', 'inside'],
    [5, 'right', 'Middle height', 'outside'],
    [3, 'left', 'Middle height', 'outside'],
    [5, 'left', 'Middle height', 'inside'],
    [1, 'left', 'High', 'middle'],
    [8, 'right', 'Low', 'outside'],
  ] as const)('zone %i for a %s-handed hitter', (zone, bats, height, side) => {
    expect(zoneWords(zone, bats)).toEqual({ height, side });
  });

  it('names the side as the catcher sees it while the hand is unknown', () => {
    expect(zoneWords(0, null)).toEqual({ height: 'High', side: 'catcher’s left' });
  });

  it.each([-1, 9, 2.5, Number.NaN])('has no words for %d, which is not on the grid', (zone) => {
    expect(zoneWords(zone, 'right')).toBeNull();
  });
});

describe('time in words', () => {
  const now = new Date('2026-06-18T20:42:00-05:00');
  it('uses the program’s zone, not the reader’s', () => {
    const at = new Date('2026-06-19T03:30:00Z');
    expect(`${dayWords(at, now, 'America/Chicago')}, ${clockWords(at, 'America/Chicago')}`).toBe(
      'today, 10:30 pm',
    );
    expect(dayWords(at, now, 'Europe/Berlin')).toBe('today'); // there both are already the 19th
    expect(dayWords(at, new Date('2026-06-18T20:00:00Z'), 'Europe/Berlin')).toBe('tomorrow');
  });
  it('counts days by the calendar across a change of the clocks', () => {
    // America/Chicago goes back an hour on 1 November 2026 (IANA time zone database).
    const eve = new Date('2026-10-31T23:30:00-05:00');
    expect(dayWords(new Date('2026-11-01T23:00:00-06:00'), eve, 'America/Chicago')).toBe('tomorrow');
    expect(dayWords(new Date('2026-11-02T00:30:00-06:00'), eve, 'America/Chicago')).toBe('Monday 2 November');
  });
  it.each([
    [0.2, '1 min'],
    [18, '18 min'],
    [63, '1 h 3 min'],
    [120, '2 h'],
    [26 * 60, '1 day'],
    [-12, '12 min'],
  ])('%d minutes', (minutes, words) => expect(spanWords(minutes)).toBe(words));
});

describe('sizes and lengths in words', () => {
  it.each([
    [840_000, '840 kB'],
    [18_200_000, '18 MB'],
    [1_240_000_000, '1.2 GB'],
  ])('%i bytes', (bytes, words) => expect(sizeWords(bytes)).toBe(words));
  it('tells what is there in the unit of the whole', () => {
    expect(sentWords(11_100_000, 18_000_000)).toBe('11 of 18 MB');
    expect(sentWords(300_000, 840_000)).toBe('300 of 840 kB');
    expect(sentWords(600_000_000, 1_200_000_000)).toBe('0.6 of 1.2 GB');
  });
  it.each([
    [3, 'a few seconds left'],
    [38, 'about 40 s left'],
    [57, 'about 1 min left'],
    [170, 'about 3 min left'],
  ])('%d seconds left', (seconds, words) => expect(leftWords(seconds)).toBe(words));
  it('counts a minute in minutes', () => {
    expect(lengthWords(8.34)).toBe('8.3 s');
    expect(lengthWords(64)).toBe('1 min 4 s');
  });
});

describe('what a place of the phone is good for', () => {
  it('is counted from the program’s own checklist', () => {
    const seen = DEFAULT_CHECKLIST.filter((item) => item.views.includes('behind')).length;
    expect(viewWords('behind', DEFAULT_CHECKLIST)).toContain(`${seen} of ${DEFAULT_CHECKLIST.length} things`);
  });
  it('asks for a screen where a ball could reach the phone', () => {
    expect(viewWords('front', DEFAULT_CHECKLIST)).toContain('screen');
  });
});
