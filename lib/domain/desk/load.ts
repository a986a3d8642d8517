import type { PersonRef } from '../lessons/lesson';
import { paceMinutes } from './evening-line';
import type { OwnHours } from './hours';

/** What lies with one coach, and how the latest went. Instants are UTC. */
export interface CoachLoad extends PersonRef {
  /** Given to the coach or taken, and not looked at yet. */
  waiting: number;
  inReview: number;
  /** Promised within what is left of today. */
  dueToday: number;
  overdue: number;
  /** The latest returned lessons, newest first. */
  returned: { submittedAt: Date; takenAt: Date | null; returnedAt: Date }[];
  /** Whether the checks for work with minors hold today. */
  isCleared: boolean;
  /** What the coach says of their own hours; null: as the program. */
  own: OwnHours | null;
  /** The coach's own promise in hours; null: as the program. */
  promiseHours: number | null;
}

const MINUTE = 60_000;

/** The median time from sending to returning, in minutes; null when nothing was returned yet. */
export function medianMinutes(returned: CoachLoad['returned']): number | null {
  const all = returned
    .map(({ submittedAt, returnedAt }) => (returnedAt.getTime() - submittedAt.getTime()) / MINUTE)
    .sort((a, b) => a - b);
  const middle = Math.floor(all.length / 2);
  if (all.length === 0) return null;
  const upper = all[middle] ?? 0;
  return Math.round(all.length % 2 ? upper : ((all[middle - 1] ?? 0) + upper) / 2);
}

/** A coach's own pace in minutes a lesson, from taken to returned. */
export const paceOf = ({ returned }: Pick<CoachLoad, 'returned'>): number =>
  paceMinutes(returned.flatMap(({ takenAt, returnedAt }) => (takenAt ? [{ takenAt, returnedAt }] : [])));
