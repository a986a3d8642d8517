import { TZDate } from '@date-fns/tz';
import { dayIn, type Day } from '../people/age';
import { isMinor } from '../people/safeguarding';

const QUIET_FROM = 20;
const QUIET_TO = 8;

/**
 * The first instant at or after `at` that is not in the quiet hours (20:00 to 08:00) of that zone. A notice to a
 * minor waits until then; the lesson itself does not. The hours follow the 8 am to 8 pm window that sport bodies
 * recommend for messages to minors.
 */
export function afterQuietHours(at: Date, timeZone: string): Date {
  const local = new TZDate(at, timeZone);
  const hour = local.getHours();
  if (hour >= QUIET_TO && hour < QUIET_FROM) return at;
  const day = local.getDate() + (hour >= QUIET_FROM ? 1 : 0);
  return new Date(new TZDate(local.getFullYear(), local.getMonth(), day, QUIET_TO, 0, 0, timeZone).getTime());
}

/** What of somebody decides whether a mail may leave now. */
export interface MailReader {
  birthDate: Day | null;
  /** Of any program: without a birth date only players count as minors. */
  isPlayer: boolean;
  timeZone: string;
}

/**
 * Until when a mail to this reader has to wait, decided at the moment of sending: an outage may have carried it into
 * the night. `now` itself when it may leave.
 */
export const quietUntil = (reader: MailReader, now: Date): Date =>
  reader.isPlayer && isMinor(reader, dayIn(reader.timeZone, now))
    ? afterQuietHours(now, reader.timeZone)
    : now;

/** The latest 08:00 of that zone that is not after `now`: up to it the daily mail of the day gathers. */
export function lastMorning(now: Date, timeZone: string): Date {
  const local = new TZDate(now, timeZone);
  const day = local.getDate() - (local.getHours() < QUIET_TO ? 1 : 0);
  return new Date(new TZDate(local.getFullYear(), local.getMonth(), day, QUIET_TO, 0, 0, timeZone).getTime());
}
