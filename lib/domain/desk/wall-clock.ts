import { TZDate } from '@date-fns/tz';
import { format } from 'date-fns';
import { isDay } from '../people/age';

/**
 * The instant at which clocks of the IANA zone show `YYYY-MM-DDTHH:mm`, as a date field writes it; null for what is no
 * such time. A time that a night has twice is the first one, one that it skips is as much later.
 */
export function fromWallClock(local: string, timeZone: string): Date | null {
  const parts = /^(\d{4}-\d{2}-\d{2})T([01]\d|2[0-3]):([0-5]\d)$/.exec(local);
  if (!parts?.[1] || !isDay(parts[1])) return null;
  const [year = 0, month = 1, day = 1] = parts[1].split('-').map(Number);
  const clock = new TZDate(year, month - 1, day, Number(parts[2]), Number(parts[3]), timeZone);
  return new Date(clock.getTime());
}

/** What clocks of the zone show at an instant, as a date field wants it. */
export const toWallClock = (at: Date, timeZone: string): string =>
  format(new TZDate(at.getTime(), timeZone), "yyyy-MM-dd'T'HH:mm");
