import { addDays, addHours, subDays, subHours } from 'date-fns';

// When time alone makes something worth telling. Our own choices, no source; each is told once for each due time.

/** A coach hears of a promise so many hours before it. */
export const NEAR_HOURS = 6;
/** What passed longer ago than this, while the worker stood still, is not told any more. */
export const STALE_DAYS = 7;
/** A payer hears of a payment so many days before it is due. */
export const PAYMENT_DAYS = 3;
/** A guardian hears of a consent's end so many days before it, and once more. */
export const CONSENT_DAYS = [30, 7] as const;

/**
 * What to tell of a promise at `now`: that it is near, that it was missed, or nothing. One that was near already when
 * the lesson was sent is not told as near: the notice that it was sent says so.
 */
export const promiseNews = (
  lesson: { submittedAt: Date; promisedAt: Date },
  now: Date,
): 'near' | 'missed' | null => {
  const { submittedAt, promisedAt } = lesson;
  if (promisedAt <= now) return promisedAt > subDays(now, STALE_DAYS) ? 'missed' : null;
  const near = subHours(promisedAt, NEAR_HOURS);
  return near <= now && submittedAt < near ? 'near' : null;
};

/** The promises that `promiseNews` may have something to tell of: after the first instant, up to the second. */
export const promiseWindow = (now: Date): { after: Date; until: Date } => ({
  after: subDays(now, STALE_DAYS),
  until: addHours(now, NEAR_HOURS),
});

/** The due times of payments to tell of: after the first instant, up to the second. Past ones are late. */
export const paymentWindow = (now: Date): { after: Date; until: Date } => ({
  after: subDays(now, STALE_DAYS),
  until: addDays(now, PAYMENT_DAYS),
});

/** Which of the warnings about a consent's end is due at `now`; null before the first and after the end. */
export const consentNews = (endsAt: Date, now: Date): (typeof CONSENT_DAYS)[number] | null => {
  if (endsAt <= now) return null;
  return [...CONSENT_DAYS].reverse().find((days) => endsAt <= addDays(now, days)) ?? null;
};
