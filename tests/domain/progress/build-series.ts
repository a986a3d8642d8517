import type { Conditions, Occasion } from '@/lib/domain/measures/change';
import type { Measure } from '@/lib/domain/measures/measure';
import type { MeasureName } from '@/lib/domain/measures/names';
import { UNIT_OF, type Target } from '@/lib/domain/measures/target';
import type { SeriesLesson } from '@/lib/domain/progress/series';

export const DAY = 86_400_000;
/** The day of the nth lesson: one a week from 5 January 2026. */
export const dayOf = (index: number) => new Date(Date.UTC(2026, 0, 5) + index * 7 * DAY);

/** A measured number with half of its interval, or a refusal with its reason. */
export const aMeasure = (
  number: readonly [value: number, half: number] | string,
  name: MeasureName = 'stride-foot-openness',
  status: Measure['status'] = 'measured',
): Measure =>
  typeof number === 'string'
    ? { name, status: 'refused', value: null, unit: UNIT_OF[name], interval: null, reason: number }
    : {
        name,
        status,
        value: number[0],
        unit: UNIT_OF[name],
        interval: [number[0] - number[1], number[0] + number[1]],
        reason: null,
      };

const LIKE: Conditions = { view: 'open_side', captureRate: 240, task: 'tee' };

/** An occasion of one lesson of its own. */
export const anOccasion = (measure: Measure, conditions: Partial<Conditions> = {}, lesson = 0): Occasion => ({
  measure,
  conditions: { ...LIKE, ...conditions },
  sessionId: `lesson-${lesson}`,
});

type Given = readonly [value: number, half: number] | string | null;

/** Lessons a week apart, each with a number, a refusal, or nothing; `unlike` changes the conditions of some. */
export const lessonsOf = (
  numbers: readonly Given[],
  unlike: Record<number, Partial<Conditions>> = {},
  name: MeasureName = 'stride-foot-openness',
): SeriesLesson[] =>
  numbers.map((number, index) => ({
    lessonId: `lesson-${index}`,
    number: index + 1,
    at: dayOf(index),
    occasion: number === null ? null : anOccasion(aMeasure(number, name), unlike[index], index),
  }));

export const aTarget = (facts: Partial<Target> = {}): Target => ({
  measure: 'stride-foot-openness',
  low: null,
  high: 45,
  setAt: dayOf(0),
  endedAt: null,
  isOwn: true,
  ...facts,
});
