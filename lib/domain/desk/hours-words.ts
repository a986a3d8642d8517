import { format } from 'date-fns';
import type { Day } from '../people/age';
import { WEEKDAYS, type DaysOff, type Stretch, type Week, type WorkingHours } from './hours';

/** A wall-clock minute of the day in words: "9 am", "12:30 pm", "noon", "midnight". */
export function clockOfMinute(minute: number): string {
  if (minute === 0 || minute === 24 * 60) return 'midnight';
  if (minute === 12 * 60) return 'noon';
  const hour = Math.floor(minute / 60);
  const past = minute % 60 === 0 ? '' : `:${String(minute % 60).padStart(2, '0')}`;
  return `${hour % 12 === 0 ? 12 : hour % 12}${past} ${hour < 12 ? 'am' : 'pm'}`;
}

const listed = (parts: readonly string[]): string =>
  parts.length < 2 ? (parts[0] ?? '') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;

/** The stretches of one day: "9 am to noon and 1 pm to 5 pm"; "closed" without any. */
export function stretchWords(stretches: readonly Stretch[]): string {
  if (stretches.length === 0) return 'closed';
  const [first] = stretches;
  if (stretches.length === 1 && first?.from === 0 && first.to === 24 * 60) return 'round the clock';
  return listed(stretches.map(({ from, to }) => `${clockOfMinute(from)} to ${clockOfMinute(to)}`));
}

const runWords = (from: number, to: number): string[] => {
  const names = WEEKDAYS.slice(from, to + 1);
  return names.length < 3 ? [...names] : [`${names[0]} to ${names.at(-1)}`];
};

/** The days that hold these hours: "Monday to Thursday and Saturday". */
function dayWordsOf(week: Week, hours: string): string {
  const runs: { from: number; to: number }[] = [];
  week.forEach((stretches, day) => {
    if (stretchWords(stretches) !== hours) return;
    const last = runs.at(-1);
    if (last && last.to === day - 1) last.to = day;
    else runs.push({ from: day, to: day });
  });
  return listed(runs.flatMap(({ from, to }) => runWords(from, to)));
}

/** A week in plain words: "Monday to Friday, 9 am to 5 pm; Saturday, 9 am to noon". */
export function weekWords(week: Week): string {
  const kinds = [...new Set(week.map(stretchWords))].filter((words) => words !== 'closed');
  const isOne = kinds.length === 1 && week.every((stretches) => stretches.length > 0);
  if (isOne) return `every day, ${kinds[0]}`;
  return kinds.map((hours) => `${dayWordsOf(week, hours)}, ${hours}`).join('; ');
}

const dayWords = (day: Day): string => format(new Date(`${day}T12:00:00`), 'd MMMM');

/** Days off in words: "26 November (Thanksgiving)", "24 December to 1 January (winter break)". */
export const offWords = ({ from, to, name }: DaysOff): string =>
  `${dayWords(from)}${from === to ? '' : ` to ${dayWords(to)}`} (${name})`;

/**
 * Beside a promise: when lessons are answered, and which days off lie between. "Lessons are answered Monday to Friday,
 * 9 am to 5 pm, not on 26 November (Thanksgiving)." Null when they are answered round the clock.
 */
export function answeredWords(hours: WorkingHours | null, from: Day, until: Day): string | null {
  if (!hours) return null;
  const between = hours.daysOff.filter((off) => off.to >= from && off.from <= until);
  const not = between.length === 0 ? '' : `, not on ${listed(between.map(offWords))}`;
  return `Lessons are answered ${weekWords(hours.week)}${not}.`;
}

/** A length of promise: "48 hours", or "16 working hours" where work has its hours. */
export const promiseWords = (promiseHours: number, hours: WorkingHours | null): string =>
  `${promiseHours} ${hours ? 'working ' : ''}${promiseHours === 1 ? 'hour' : 'hours'}`;
