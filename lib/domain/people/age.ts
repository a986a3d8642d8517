import { TZDate } from '@date-fns/tz';
import { format } from 'date-fns';
import * as z from 'zod';

const DAYS_IN = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;
const isLeap = (year: number) => (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;

/** True for a day that the (proleptic Gregorian) calendar has, written `YYYY-MM-DD`. */
export const isDay = (text: string): boolean => {
  const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (!parts) return false;
  const [year, month, day] = [Number(parts[1]), Number(parts[2]), Number(parts[3])];
  const last = month === 2 && isLeap(year) ? 29 : (DAYS_IN[month - 1] ?? 0);
  return day >= 1 && day <= last;
};

/** A calendar day without a time or a zone, `YYYY-MM-DD` (ISO 8601). Birth dates and "today" are days. */
export const daySchema = z.string().refine(isDay, 'Write a day that the calendar has.').brand<'Day'>();
export type Day = z.infer<typeof daySchema>;

/** The day it is at `instant` for people in the IANA `zone`. */
export const dayIn = (zone: string, instant: Date): Day =>
  format(new TZDate(instant.getTime(), zone), 'yyyy-MM-dd') as Day;

/** The day that a date column holds (the database hands it over as midnight UTC). */
export const dayOfDate = (date: Date): Day => date.toISOString().slice(0, 10) as Day;

/** The other way round: midnight UTC of the day, as the database wants it. */
export const dateOfDay = (day: Day): Date => new Date(`${day}T00:00:00.000Z`);

/**
 * Completed years of life on `today`; negative for a birth in the future. Somebody born on 29 February completes
 * a year on 1 March of a common year: of the two customs the one that keeps protection a day longer.
 */
export const ageOn = (birth: Day, today: Day): number => {
  const years = Number(today.slice(0, 4)) - Number(birth.slice(0, 4));
  return today.slice(5) < birth.slice(5) ? years - 1 : years;
};
