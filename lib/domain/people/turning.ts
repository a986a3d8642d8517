import { subDays } from 'date-fns';
import { ageOn, dateOfDay, dayOfDate, type Day } from './age';
import { ADULT_AGE, LOGIN_AGE } from './safeguarding';

/** The ages at which other rules hold from the day on. */
export const TURNING_AGES = [LOGIN_AGE, ADULT_AGE] as const;
export type TurningAge = (typeof TURNING_AGES)[number];

/** For so many days after a birthday it is still told, should the worker have stood still. */
export const TELLING_DAYS = 7;

/** Which of the ages somebody reached on `today` or in the week before it; null when none. */
export const turnedLately = (birth: Day, today: Day): TurningAge | null => {
  const before = dayOfDate(subDays(dateOfDay(today), TELLING_DAYS));
  return TURNING_AGES.find((age) => ageOn(birth, today) >= age && ageOn(birth, before) < age) ?? null;
};
