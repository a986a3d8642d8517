import { TZDate } from '@date-fns/tz';
import { differenceInCalendarDays, differenceInMinutes, format } from 'date-fns';

const inZone = (at: Date, timeZone: string) => new TZDate(at.getTime(), timeZone);

/** The clock time in the program's zone: "9:30 pm". */
export const clockWords = (at: Date, timeZone: string): string => format(inZone(at, timeZone), 'h:mm aaa');

/** The day in the program's zone: "today", "tomorrow", "yesterday", else "Thursday 18 June", with the year if it is another. */
export const dayWords = (at: Date, now: Date, timeZone: string): string => {
  const day = inZone(at, timeZone);
  const today = inZone(now, timeZone);
  const away = differenceInCalendarDays(day, today);
  if (away === 0) return 'today';
  if (away === 1) return 'tomorrow';
  if (away === -1) return 'yesterday';
  return format(day, day.getFullYear() === today.getFullYear() ? 'EEEE d MMMM' : 'EEEE d MMMM yyyy');
};

/** Day and clock time: "tomorrow, 8:00 am", "Thursday 18 June, 9:30 pm". */
export const momentWords = (at: Date, now: Date, timeZone: string): string =>
  `${dayWords(at, now, timeZone)}, ${clockWords(at, timeZone)}`;

/** A length of time, coarse on purpose: "18 min", "1 h 3 min", "2 days". Never negative; under a minute is "1 min". */
export const spanWords = (minutes: number): string => {
  const whole = Math.max(1, Math.abs(Math.round(minutes)));
  if (whole < 60) return `${whole} min`;
  const hours = Math.floor(whole / 60);
  if (hours < 24) return whole % 60 === 0 ? `${hours} h` : `${hours} h ${whole % 60} min`;
  const days = Math.round(hours / 24);
  return days === 1 ? '1 day' : `${days} days`;
};

type Props = { at: Date; now: Date; timeZone: string };

/** A moment in the program's zone, in words. `now` is given, so that server and browser write the same. */
export const Moment = ({ at, now, timeZone, as = 'moment' }: Props & { as?: 'moment' | 'day' | 'clock' }) => (
  <time dateTime={at.toISOString()}>
    {as === 'clock'
      ? clockWords(at, timeZone)
      : as === 'day'
        ? dayWords(at, now, timeZone)
        : momentWords(at, now, timeZone)}
  </time>
);

/** How long ago: "2 h ago"; the exact moment is its title. */
export const TimeAgo = ({ at, now, timeZone }: Props) => (
  <time dateTime={at.toISOString()} title={momentWords(at, now, timeZone)}>
    {spanWords(differenceInMinutes(now, at))} ago
  </time>
);

/** How long until a promise: "18 min left", or "12 min late"; the exact moment is its title. */
export const Until = ({ at, now, timeZone }: Props) => {
  const left = differenceInMinutes(at, now);
  return (
    <time className="num" dateTime={at.toISOString()} title={momentWords(at, now, timeZone)}>
      {spanWords(left)} {at.getTime() >= now.getTime() ? 'left' : 'late'}
    </time>
  );
};
