import { isDay } from '../people/age';
import { hoursSchema, WEEKDAYS, type DaysOff, type Week, type WorkingHours } from './hours';

/** A week and its days off as they are being written: times as `HH:mm`, everything may still be open. */
export interface HoursDraft {
  week: { from: string; to: string }[][];
  daysOff: { from: string; to: string; name: string }[];
}

const clock = (minute: number) =>
  `${String(Math.floor(minute / 60) % 24).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;

/** A week and days off as a form holds them. The end of a day is written as midnight, 00:00. */
export const draftOfHours = (week: Week, daysOff: readonly DaysOff[]): HoursDraft => ({
  week: week.map((stretches) => stretches.map(({ from, to }) => ({ from: clock(from), to: clock(to) }))),
  daysOff: daysOff.map((off) => ({ ...off })),
});

const minuteOf = (time: string): number | null => {
  const parts = /^([01]\d|2[0-3]):([0-5]\d)$/.exec(time);
  return parts ? Number(parts[1]) * 60 + Number(parts[2]) : null;
};

const dayFault = (day: string, stretches: HoursDraft['week'][number]): string | null => {
  const minutes = stretches.map(({ from, to }) => ({ from: minuteOf(from), to: minuteOf(to) || 24 * 60 }));
  if (stretches.some(({ from, to }) => minuteOf(from) === null || minuteOf(to) === null))
    return `Write both times of ${day}, or remove the line.`;
  if (minutes.some(({ from, to }) => (from ?? 0) >= to)) return `On ${day} work ends before it begins.`;
  const sorted = [...minutes].sort((a, b) => (a.from ?? 0) - (b.from ?? 0));
  const isOver = sorted.some((one, i) => i > 0 && (one.from ?? 0) < (sorted[i - 1]?.to ?? 0));
  return isOver ? `The hours of ${day} lie over one another.` : null;
};

const offFault = ({ from, to, name }: HoursDraft['daysOff'][number]): string | null => {
  if (!name.trim()) return 'Give every line of days off a name, like Thanksgiving.';
  if (!isDay(from) || (to !== '' && !isDay(to))) return `Write the day of “${name.trim()}”.`;
  return to !== '' && to < from ? `The last day of “${name.trim()}” is before its first.` : null;
};

/** The hours that a draft means, or one sentence about the first thing that does not fit. A last day left open is the first. */
export function hoursOfDraft({ week, daysOff }: HoursDraft): { hours: WorkingHours } | { fault: string } {
  const fault =
    week.map((stretches, day) => dayFault(WEEKDAYS[day] ?? '', stretches)).find((one) => one !== null) ??
    daysOff.map(offFault).find((one) => one !== null);
  if (fault) return { fault };
  const parsed = hoursSchema.safeParse({
    version: 1,
    week: week.map((stretches) =>
      stretches
        .map(({ from, to }) => ({ from: minuteOf(from) ?? 0, to: minuteOf(to) || 24 * 60 }))
        .sort((a, b) => a.from - b.from),
    ),
    daysOff: daysOff
      .map(({ from, to, name }) => ({ from, to: to === '' ? from : to, name: name.trim() }))
      .sort((a, b) => (a.from < b.from ? -1 : 1)),
  });
  return parsed.success
    ? { hours: parsed.data }
    : { fault: parsed.error.issues[0]?.message ?? 'Something in these hours does not fit.' };
}
