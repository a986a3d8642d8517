import { TZDate } from '@date-fns/tz';

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
