import { answeredWords } from '../desk/hours-words';
import { dayIn } from '../people/age';
import { addWorkingMinutes, type Clockwork } from '../desk/working-time';

/** What a promise is made of: so many hours of work, and when that work is done. */
export interface PromiseTerms extends Clockwork {
  promiseHours: number;
}

/** The instant by which the coach answers: promised hours of working time after the lesson was sent. */
export const promisedBy = (submittedAt: Date, { promiseHours, hours, timeZone }: PromiseTerms): Date =>
  addWorkingMinutes(submittedAt, promiseHours * 60, { hours, timeZone });

/** Beside a promise: when lessons are answered and which days off lie between; null round the clock. */
export const answeredBetween = ({ hours, timeZone }: Clockwork, from: Date, until: Date): string | null =>
  answeredWords(hours, dayIn(timeZone, from), dayIn(timeZone, until));
