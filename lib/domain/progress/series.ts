import { compareMeasures, unlike, type Change, type Difference, type Occasion } from '../measures/change';
import type { MeasureName } from '../measures/names';
import type { Target } from '../measures/target';

/** A lesson as one place on the line of a measure. `occasion` null: nothing was set that a number could come from. */
export interface SeriesLesson {
  readonly lessonId: string;
  readonly number: number;
  readonly at: Date;
  readonly occasion: Occasion | null;
}

/** One lesson on the line of a measure; lessons in order of time, by their index. */
export interface SeriesPoint extends SeriesLesson {
  readonly index: number;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly isEstimate: boolean;
  /** Why it was not measured. */
  readonly reason: string | null;
  /** What was unlike the number before it, so that the two are not joined. */
  readonly unlikeBefore: readonly Difference[];
}

/** A target over some of the lessons: fractions of an index, the last one open to the right. */
export interface TargetStep {
  readonly from: number;
  readonly to: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly since: Date;
}

/** A measure across lessons. */
export interface Series {
  readonly measure: MeasureName;
  readonly points: readonly SeriesPoint[];
  /** Runs of two or more numbers that may be joined by a line, as indices of `points`. */
  readonly segments: readonly (readonly number[])[];
  readonly newest: SeriesPoint | null;
  /** The newest number that can be held against an earlier one; null when there is none. */
  readonly compared: SeriesPoint | null;
  /** The lesson that `compared` is held against. */
  readonly reference: SeriesPoint | null;
  readonly change: Change | null;
  /** From the reference on: inside it a difference may be noise. */
  readonly band: { readonly from: number; readonly low: number; readonly high: number } | null;
  readonly targets: readonly TargetStep[];
}

const pointsOf = (lessons: readonly SeriesLesson[]): SeriesPoint[] => {
  let before: Occasion | null = null;
  return lessons.map((lesson, index) => {
    const measure = lesson.occasion?.measure;
    const isNumber = measure?.value != null && measure.interval !== null;
    const unlikeBefore: readonly Difference[] =
      isNumber && before && lesson.occasion ? unlike(before.conditions, lesson.occasion.conditions) : [];
    if (isNumber) before = lesson.occasion;
    return {
      ...lesson,
      index,
      value: isNumber ? measure.value : null,
      low: isNumber ? (measure.interval?.[0] ?? null) : null,
      high: isNumber ? (measure.interval?.[1] ?? null) : null,
      isEstimate: measure?.status === 'estimate',
      reason: measure && !isNumber ? measure.reason : null,
      unlikeBefore,
    };
  });
};

/** A lesson that was refused parts the line, as unlike conditions do; one where nothing was set does not. */
const segmentsOf = (points: readonly SeriesPoint[]): number[][] => {
  const runs: number[][] = [];
  let isBroken = true;
  for (const point of points) {
    if (point.value === null) {
      isBroken ||= point.occasion !== null;
      continue;
    }
    const run = runs.at(-1);
    if (run && !isBroken && point.unlikeBefore.length === 0) run.push(point.index);
    else runs.push([point.index]);
    isBroken = false;
  }
  return runs.filter((run) => run.length > 1);
};

/** Where a day lies between the lessons: 0 at the first, 1.5 half way from the second to the third. */
export function placeOf(day: Date, lessons: readonly Pick<SeriesLesson, 'at'>[]): number {
  const times = lessons.map(({ at }) => at.getTime());
  const time = day.getTime();
  const after = times.findIndex((one) => one > time);
  if (after === 0) return -0.5;
  if (after < 0) return times.length - 1 + (time === times.at(-1) ? 0 : 0.5);
  const [left, right] = [times[after - 1] ?? 0, times[after] ?? 0];
  return after - 1 + (right > left ? (time - left) / (right - left) : 0);
}

/** The target that held at a time: the player's own before the program's. */
const targetAt = (targets: readonly Target[], time: number): Target | null => {
  const holding = targets.filter(
    ({ setAt, endedAt }) => setAt.getTime() <= time && (endedAt === null || endedAt.getTime() > time),
  );
  return holding.findLast((target) => target.isOwn) ?? holding.at(-1) ?? null;
};

/** The steps of the target line: each begins on the day it was set and ends where another took its place. */
export function targetSteps(
  targets: readonly Target[],
  lessons: readonly Pick<SeriesLesson, 'at'>[],
): TargetStep[] {
  const days = targets.flatMap(({ setAt, endedAt }) => [setAt, ...(endedAt ? [endedAt] : [])]);
  const turns = [...new Set(days.map((day) => day.getTime()))].sort((a, b) => a - b);
  const steps: TargetStep[] = [];
  for (const [index, time] of turns.entries()) {
    const target = targetAt(targets, time);
    const next = turns[index + 1];
    const to = next === undefined ? null : placeOf(new Date(next), lessons);
    if (!target) continue;
    const last = steps.at(-1);
    const from = placeOf(new Date(time), lessons);
    const isSame = last && last.to === from && last.low === target.low && last.high === target.high;
    if (last && isSame) steps[steps.length - 1] = { ...last, to };
    else steps.push({ from, to, low: target.low, high: target.high, since: new Date(time) });
  }
  return steps;
}

/**
 * The lesson that a number is held against: among numbers come by in the same way the one on which the target
 * that holds now was set (the last sent by that day), else the first of all.
 */
const referenceFor = (
  newest: SeriesPoint,
  points: readonly SeriesPoint[],
  since: Date | null,
): SeriesPoint | null => {
  const conditions = newest.occasion?.conditions;
  if (!conditions) return null;
  const like = points.filter(
    (point) =>
      point.index < newest.index &&
      point.value !== null &&
      point.occasion !== null &&
      unlike(point.occasion.conditions, conditions).length === 0,
  );
  const isSince = since !== null && since < newest.at;
  return (isSince ? like.findLast((point) => point.at <= since) : null) ?? like[0] ?? null;
};

/** A measure across lessons (oldest first): what may be joined, what it is held against, noise band and target line. */
export function seriesOf(
  measure: MeasureName,
  lessons: readonly SeriesLesson[],
  targets: readonly Target[],
): Series {
  const own = targets.filter((target) => target.measure === measure);
  const points = pointsOf(lessons);
  const newest = points.findLast((point) => point.value !== null) ?? null;
  const steps = targetSteps(own, lessons);
  const holding = steps.at(-1)?.to === null ? (steps.at(-1)?.since ?? null) : null;
  const held = points
    .filter((point) => point.value !== null)
    .map((point) => ({ point, reference: referenceFor(point, points, holding) }))
    .findLast((pair) => pair.reference !== null);
  const compared = held?.point ?? null;
  const reference = held?.reference ?? null;
  const change =
    reference?.occasion && compared?.occasion ? compareMeasures(reference.occasion, compared.occasion) : null;
  const noise = change && change.kind !== 'not-compared' ? change.noise : null;
  return {
    measure,
    points,
    segments: segmentsOf(points),
    newest,
    compared,
    reference,
    change,
    band:
      reference?.value != null && noise !== null
        ? { from: reference.index, low: reference.value - noise, high: reference.value + noise }
        : null,
    targets: steps,
  };
}
