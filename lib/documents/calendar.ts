import ical, { ICalCalendarMethod, ICalEventTransparency } from 'ical-generator';
import { calendarEntry, type PromisedTime } from '@/lib/domain/notices/calendar';

const REFRESH_SECONDS = 15 * 60;

/** A coach's promised times as a calendar (RFC 5545), with links below `siteUrl`. No name of a player is in it. */
export function composeCalendar(times: readonly PromisedTime[], siteUrl: string, now: Date): string {
  const calendar = ical({
    name: 'Cagepost: promised times',
    prodId: { company: 'Cagepost', product: 'Promised times', language: 'EN' },
    method: ICalCalendarMethod.PUBLISH,
    ttl: REFRESH_SECONDS,
  });
  for (const one of times) {
    const { path, ...entry } = calendarEntry(one);
    calendar.createEvent({
      ...entry,
      stamp: now,
      url: new URL(path, siteUrl).toString(),
      // It says when something is due, not that the coach is away.
      transparency: ICalEventTransparency.TRANSPARENT,
    });
  }
  // Every line ends with CR LF, the last one too (RFC 5545, 3.1); the library leaves that one out.
  return `${calendar.toString()}\r\n`;
}
