import { addMinutes, differenceInMinutes } from 'date-fns';

/** Minutes a lesson takes until a coach has returned enough of them to know better. */
export const FIRST_GUESS_MINUTES = 12;
const ENOUGH = 3;

/**
 * A coach's own pace in whole minutes a lesson: the median of the latest reviews (from taken to returned). Stretches
 * over an hour are left out, because the coach went away and came back.
 */
export function paceMinutes(reviews: readonly { takenAt: Date; returnedAt: Date }[]): number {
  const minutes = reviews
    .map((review) => differenceInMinutes(review.returnedAt, review.takenAt))
    .filter((m) => m >= 1 && m <= 60)
    .sort((a, b) => a - b);
  if (minutes.length < ENOUGH) return FIRST_GUESS_MINUTES;
  const middle = Math.floor(minutes.length / 2);
  const median =
    minutes.length % 2 ? minutes[middle] : ((minutes[middle - 1] ?? 0) + (minutes[middle] ?? 0)) / 2;
  return Math.max(1, Math.round(median ?? FIRST_GUESS_MINUTES));
}

export interface EveningStep {
  lessonId: string;
  promisedAt: Date;
  startsAt: Date;
  endsAt: Date;
  isLate: boolean;
}

/**
 * The promises of tonight set against the pace: lessons done one after the other in order of promise, each with the
 * time it would be finished and whether that is past its promise.
 */
export function eveningLine(
  now: Date,
  queue: readonly { lessonId: string; promisedAt: Date }[],
  pace: number,
): { steps: EveningStep[]; finishesAt: Date; lateCount: number } {
  let at = now;
  const ordered = [...queue].sort((a, b) => a.promisedAt.getTime() - b.promisedAt.getTime());
  const steps = ordered.map((lesson) => {
    const startsAt = at;
    at = addMinutes(at, pace);
    return { ...lesson, startsAt, endsAt: at, isLate: at.getTime() > lesson.promisedAt.getTime() };
  });
  return { steps, finishesAt: at, lateCount: steps.filter((step) => step.isLate).length };
}
