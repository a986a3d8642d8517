import { dateOfDay, dayOfDate, type Day } from '../people/age';

/** A drill as it was practised: open from one day to another (null: still), asked for on so many days a week. */
export interface Practised {
  title: string;
  from: Day;
  until: Day | null;
  /** From this day on it is paused; null when it is not. */
  pausedFrom: Day | null;
  daysAWeek: number;
  /** Days on which swings were reported; a day may be there twice. */
  days: readonly Day[];
}

/** One drill in one week. */
export interface DrillWeek {
  title: string;
  done: number;
  asked: number;
  /** `open`: the week is not over yet. */
  state: 'kept' | 'missed' | 'open' | 'paused';
}
export interface PracticeWeek {
  monday: Day;
  drills: DrillWeek[];
}

// Days are midnights UTC, and UTC has no summer time: plain arithmetic, whatever the machine's own zone.
const DAY_MS = 86_400_000;
const dayAfter = (day: Day, days: number): Day =>
  dayOfDate(new Date(dateOfDay(day).getTime() + days * DAY_MS));
const daysFrom = (a: Day, b: Day): number => (dateOfDay(b).getTime() - dateOfDay(a).getTime()) / DAY_MS;
const earlier = (a: Day, b: Day | null): Day => (b !== null && b < a ? b : a);
const later = (a: Day, b: Day): Day => (a > b ? a : b);

/** The Monday of the week that holds a day (weeks begin on Monday: ISO 8601). */
export const mondayOf = (day: Day): Day => dayAfter(day, -((dateOfDay(day).getUTCDay() + 6) % 7));

/** The Monday so many weeks before one. */
export const weekBefore = (monday: Day, weeks: number): Day => dayAfter(monday, -7 * weeks);

const weekOfDrill = (one: Practised, monday: Day, today: Day): DrillWeek | null => {
  const sunday = dayAfter(monday, 6);
  const first = later(monday, one.from);
  const last = earlier(sunday, one.until);
  if (first > last) return null;
  const isPaused = one.pausedFrom !== null && one.pausedFrom <= last;
  const open = daysFrom(first, last) + 1;
  const asked = Math.min(one.daysAWeek, open);
  const done = new Set(one.days.filter((day) => day >= monday && day <= sunday)).size;
  const state =
    done >= asked ? 'kept' : isPaused ? 'paused' : sunday >= today && one.until === null ? 'open' : 'missed';
  return { title: one.title, done, asked, state };
};

/**
 * Practice week by week, newest first: `count` weeks up to the one of `upTo`, without those in which nothing was given.
 * A week asks for no more days of a drill than the drill was open in it.
 */
export const practiceWeeks = (
  practised: readonly Practised[],
  { upTo, count, today }: { upTo: Day; count: number; today: Day },
): PracticeWeek[] =>
  Array.from({ length: count }, (_, index) => weekBefore(mondayOf(upTo), index)).flatMap((monday) => {
    const drills = practised.flatMap((one) => weekOfDrill(one, monday, today) ?? []);
    return drills.length > 0 ? [{ monday, drills }] : [];
  });

const days = (count: number) => `${count} ${count === 1 ? 'day' : 'days'}`;

/** A drill's week in words: "3 of 3 days, kept", "1 of 3 days, 2 missed", "1 of 3 days so far". */
export const drillWeekWords = ({ done, asked, state }: DrillWeek): string =>
  `${done} of ${days(asked)}${
    { kept: ', kept', missed: `, ${asked - done} missed`, open: ' so far', paused: ', paused' }[state]
  }`;
