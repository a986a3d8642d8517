import ICAL from 'ical.js';
import { describe, expect, test } from 'vitest';
import { composeCalendar } from '@/lib/documents/calendar';
import { initialsOf, type PromisedTime } from '@/lib/domain/notices/calendar';

// The reference is ical.js, another reader of RFC 5545.

const SITE = 'https://cage.example.org';
const NOW = new Date('2026-06-01T17:00:00Z');
const one: PromisedTime = {
  lessonId: '0198f0aa-0000-7000-8000-000000000001',
  programName: 'Maple, Sons; & Co',
  lessonNumber: 5,
  playerName: 'Wren Ångström',
  isOwn: true,
  promisedAt: new Date('2026-06-02T01:30:00Z'),
};
const read = (times: readonly PromisedTime[]) => {
  const text = composeCalendar(times, SITE, NOW);
  const calendar = new ICAL.Component(ICAL.parse(text) as unknown[]);
  return { text, calendar, events: calendar.getAllSubcomponents('vevent').map((e) => new ICAL.Event(e)) };
};

describe('a calendar of promised times', () => {
  test('is what another reader takes for one, with each time at its instant', () => {
    const { calendar, events, text } = read([one, { ...one, lessonId: 'b', isOwn: false }]);
    expect(calendar.getFirstPropertyValue('version')).toBe('2.0');
    expect(calendar.getFirstPropertyValue('prodid')).toContain('Cagepost');
    expect(events.map((event) => event.uid)).toEqual([`${one.lessonId}@cagepost`, 'b@cagepost']);
    const [event] = events;
    expect(event?.endDate.toJSDate()).toEqual(one.promisedAt);
    expect(event?.startDate.toJSDate()).toEqual(new Date('2026-06-02T01:00:00Z'));
    expect(event?.endDate.zone.tzid).toBe('UTC');
    expect(event?.summary).toBe('Promised: lesson 5, W. Å.');
    expect(events[1]?.summary).toBe('Promised, not taken yet: lesson 5, W. Å.');
    expect(event?.description).toContain('Maple, Sons; & Co');
    expect(event?.component.getFirstPropertyValue('url')).toBe(`${SITE}/lessons/${one.lessonId}`);
    expect(event?.component.getFirstPropertyValue('transp')).toBe('TRANSPARENT');
    // RFC 5545, 3.1: lines end with CR LF and are at most 75 octets long.
    expect(text.endsWith('\r\n')).toBe(true);
    for (const line of text.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
  });

  test('with nothing in it is still one', () => {
    expect(read([]).events).toEqual([]);
  });

  test('holds no name of a player', () => {
    expect(read([one]).text.replace(/\r\n /g, '')).not.toMatch(/Wren|ngstr/);
  });

  test('cannot be broken by a name', () => {
    const { events } = read([{ ...one, playerName: '\r\nEND:VCALENDAR \u0000x;, y' }]);
    expect(events).toHaveLength(1);
  });
});

test.each([
  ['Wren Abara', 'W. A.'],
  ['wren', 'W.'],
  ['Ana María de la Cruz Soto', 'A. M. D.'],
  ['“Bo” O’Neil', 'B. O.'],
  ['李 小龍', '李. 小.'],
  ['  ', ''],
])('the initials of %s', (name, initials) => {
  expect(initialsOf(name)).toBe(initials);
});
