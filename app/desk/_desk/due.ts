import { TZDate } from '@date-fns/tz';
import { addDays, startOfDay } from 'date-fns';

/** The end of today on the program's clocks. */
export const endOfDay = (now: Date, timeZone: string): Date =>
  new Date(startOfDay(addDays(new TZDate(now.getTime(), timeZone), 1)).getTime());

/** Rows in order of promise, in the sections of the desk: what is late, what is due today, what has time. */
export function sectionsOf<T extends { promisedAt: Date | null }>(
  rows: readonly T[],
  now: Date,
  timeZone: string,
): { title: string; rows: T[] }[] {
  const tonight = endOfDay(now, timeZone);
  const kindOf = ({ promisedAt }: T) =>
    promisedAt && promisedAt < now ? 'Overdue' : promisedAt && promisedAt < tonight ? 'Due today' : 'Later';
  return ['Overdue', 'Due today', 'Later']
    .map((title) => ({ title, rows: rows.filter((row) => kindOf(row) === title) }))
    .filter((section) => section.rows.length > 0);
}
