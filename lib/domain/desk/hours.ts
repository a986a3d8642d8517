import * as z from 'zod';
import { daySchema, type Day } from '../people/age';

/** The days of a week in the order of ISO 8601; a week of hours has one entry for each. */
export const WEEKDAYS = [
  'Monday',
  'Tuesday',
  'Wednesday',
  'Thursday',
  'Friday',
  'Saturday',
  'Sunday',
] as const;

const DAY_MINUTES = 24 * 60;
const LEAST_WEEK_MINUTES = 60;

const stretchSchema = z
  .object({
    from: z
      .int()
      .min(0)
      .max(DAY_MINUTES - 1),
    to: z.int().min(1).max(DAY_MINUTES),
  })
  .refine(({ from, to }) => from < to, 'A stretch of work ends after it begins.');

/** A stretch of one day's work: minutes after midnight on the wall clock, the end not included (1440: midnight). */
export type Stretch = z.infer<typeof stretchSchema>;

const daySchedule = z
  .array(stretchSchema)
  .max(3, 'Three stretches a day at most.')
  .refine(
    (stretches) => stretches.every((one, i) => i === 0 || one.from >= (stretches[i - 1]?.to ?? 0)),
    'The stretches of a day follow one another and do not overlap.',
  );

const minutesOf = (week: readonly (readonly Stretch[])[]) =>
  week.flat().reduce((sum, { from, to }) => sum + to - from, 0);

const weekSchema = z
  .array(daySchedule)
  .length(WEEKDAYS.length)
  .refine((week) => minutesOf(week) >= LEAST_WEEK_MINUTES, 'A week needs one hour of work at least.');

/** Working stretches of Monday to Sunday. */
export type Week = z.infer<typeof weekSchema>;

const offSchema = z
  .object({
    from: daySchema,
    to: daySchema,
    name: z.string().trim().min(1, 'Give the days off a name, like Thanksgiving.').max(60),
  })
  .refine(({ from, to }) => from <= to, 'The last day off cannot be before the first.');

/** Days on which nobody works, both ends included. */
export type DaysOff = z.infer<typeof offSchema>;

const daysOffSchema = z.array(offSchema).max(60, 'Sixty entries of days off at most.');

/** When a program works: its week and its holidays, on the wall clocks of its own zone. */
export const hoursSchema = z.object({ version: z.literal(1), week: weekSchema, daysOff: daysOffSchema });
export type WorkingHours = z.infer<typeof hoursSchema>;

/** What a coach says of their own: another week (null: the program's) and the days they are away besides its holidays. */
export const ownHoursSchema = z.object({
  version: z.literal(1),
  week: weekSchema.nullable(),
  daysOff: daysOffSchema,
});
export type OwnHours = z.infer<typeof ownHoursSchema>;

/** A week without an end: every minute of every day. */
export const wholeWeek = (): Week => WEEKDAYS.map(() => [{ from: 0, to: DAY_MINUTES }]);

/** The hours of a coach in a program: their own week, the holidays of both. Null: round the clock. */
export function hoursOfCoach(program: WorkingHours | null, own: OwnHours | null): WorkingHours | null {
  if (!own) return program;
  const daysOff = [...(program?.daysOff ?? []), ...own.daysOff];
  const week = own.week ?? program?.week ?? null;
  if (!week && daysOff.length === 0) return null;
  return { version: 1, week: week ?? wholeWeek(), daysOff };
}

/** The days off that hold the day, the one that ends last; null on an ordinary day. */
export const offOn = ({ daysOff }: Pick<WorkingHours, 'daysOff'>, day: Day): DaysOff | null =>
  daysOff
    .filter((off) => off.from <= day && day <= off.to)
    .reduce<DaysOff | null>((last, off) => (last && last.to >= off.to ? last : off), null);
