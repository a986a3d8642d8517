import { tzOffset } from '@date-fns/tz';
import { dateOfDay, dayOfDate } from '../people/age';
import { offOn, type WorkingHours } from './hours';

const MINUTE = 60_000;
const DAY = 24 * 60 * MINUTE;

/** When somebody works, and in which IANA zone its wall clocks are read. Null hours: round the clock. */
export interface Clockwork {
  hours: WorkingHours | null;
  timeZone: string;
}

const offsetAt = (at: number, timeZone: string) => tzOffset(timeZone, new Date(at)) * MINUTE;
const weekdayOf = (midnight: number) => (new Date(midnight).getUTCDay() + 6) % 7;

/** The first instant after `at`, up to `end`, at which clocks stand otherwise; `end` when they do not. */
function nextChange(at: number, end: number, timeZone: string): number {
  const offset = offsetAt(at, timeZone);
  if (offsetAt(end, timeZone) === offset) return end;
  let [same, other] = [at, end];
  while (other - same > 1) {
    const middle = Math.floor((same + other) / 2);
    if (offsetAt(middle, timeZone) === offset) same = middle;
    else other = middle;
  }
  return other;
}

/**
 * The stretches of work from `start` on, in order, without end, in milliseconds since 1970. What counts is the wall
 * clock: an hour that a night skips is not worked, one that it has twice is worked twice.
 */
function* stretchesFrom(start: number, hours: WorkingHours, timeZone: string) {
  let at = start;
  for (;;) {
    const offset = offsetAt(at, timeZone);
    const midnight = Math.floor((at + offset) / DAY) * DAY;
    const day = dayOfDate(new Date(midnight));
    const off = offOn(hours, day);
    const afterOff = off ? dateOfDay(off.to).getTime() + DAY - offset : 0;
    // All days off at once, unless the clocks are changed by their end: then day by day.
    const end =
      off && offsetAt(afterOff, timeZone) === offset
        ? afterOff
        : nextChange(at, midnight + DAY - offset, timeZone);
    for (const { from, to } of off ? [] : (hours.week[weekdayOf(midnight)] ?? [])) {
      const begins = Math.max(at, midnight + from * MINUTE - offset);
      const ends = Math.min(end, midnight + to * MINUTE - offset);
      if (begins < ends) yield { begins, ends };
    }
    at = end;
  }
}

/** True when the instant is working time by the wall clock of the zone. */
export function isWorking(at: Date, { hours, timeZone }: Clockwork): boolean {
  if (!hours) return true;
  const local = at.getTime() + offsetAt(at.getTime(), timeZone);
  const midnight = Math.floor(local / DAY) * DAY;
  if (offOn(hours, dayOfDate(new Date(midnight)))) return false;
  const minute = (local - midnight) / MINUTE;
  return (hours.week[weekdayOf(midnight)] ?? []).some(({ from, to }) => from <= minute && minute < to);
}

/** The first working instant at or after `at`. */
export function nextWorking(at: Date, { hours, timeZone }: Clockwork): Date {
  if (!hours) return at;
  for (const { begins } of stretchesFrom(at.getTime(), hours, timeZone)) return new Date(begins);
  return at;
}

/** The instant at which so many minutes of work have been done when the work begins at `at`; `minutes` above zero. */
export function addWorkingMinutes(at: Date, minutes: number, { hours, timeZone }: Clockwork): Date {
  let left = minutes * MINUTE;
  if (!hours) return new Date(at.getTime() + left);
  for (const { begins, ends } of stretchesFrom(at.getTime(), hours, timeZone)) {
    if (left <= ends - begins) return new Date(begins + left);
    left -= ends - begins;
  }
  return at;
}
