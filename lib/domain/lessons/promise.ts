import { addHours } from 'date-fns';

/** The instant by which the coach answers: promised hours after the lesson was sent. */
export const promisedBy = (submittedAt: Date, promiseHours: number): Date =>
  addHours(submittedAt, promiseHours);
