import * as z from 'zod';
import { MEASURE_NAMES, type MeasureName } from './names';

/** What a coach wants a measure to be, in its own unit: at least `low`, at most `high`, or both. */
export interface Target {
  measure: MeasureName;
  low: number | null;
  high: number | null;
  setAt: Date;
  /** When another one took its place or it was taken away; null while it holds. */
  endedAt: Date | null;
  /** Set for this player; else it is the program's template. */
  isOwn: boolean;
}

export type MeasureUnit = 'deg' | 'cm' | 'ms';

/** The unit of each measure. */
export const UNIT_OF: Record<MeasureName, MeasureUnit> = {
  'stride-foot-openness': 'deg',
  'stride-length': 'cm',
  'head-ahead-of-belt': 'cm',
  'front-knee-past-ankle': 'cm',
  'trunk-lean': 'deg',
  'shoulder-tilt': 'deg',
  'front-knee-flexion': 'deg',
  'hip-openness': 'deg',
  'shoulder-openness': 'deg',
  'load-to-foot-strike': 'ms',
  'foot-strike-to-contact': 'ms',
};

const limit = z
  .number('Write a number.')
  .min(-2000, 'A target lies between -2000 and 2000.')
  .max(2000, 'A target lies between -2000 and 2000.')
  .nullable();

/** A target as somebody sets it. Both limits null takes the present one away. */
export const targetSchema = z
  .object({ measure: z.enum(MEASURE_NAMES), low: limit, high: limit })
  .refine(({ low, high }) => low === null || high === null || low <= high, {
    message: 'The lower limit lies above the upper one.',
    path: ['low'],
  });

/** The targets that hold now: the player's own before the program's template. */
export const targetsNow = (targets: readonly Target[]): Map<MeasureName, Target> => {
  const standing = targets.filter((target) => target.endedAt === null);
  return new Map(
    [...standing.filter((target) => !target.isOwn), ...standing.filter((target) => target.isOwn)].map(
      (target) => [target.measure, target],
    ),
  );
};

const SUFFIX = { deg: '°', cm: ' cm', ms: ' ms' } as const satisfies Record<MeasureUnit, string>;
const written = (value: number) => String(Math.round(value * 10) / 10).replace('-', '−');

/** A target in words: "at most 45°", "at least 2 cm", "between 100 and 200 ms". */
export const targetWords = ({ measure, low, high }: Pick<Target, 'measure' | 'low' | 'high'>): string => {
  const unit = SUFFIX[UNIT_OF[measure]];
  if (low !== null && high !== null) return `between ${written(low)} and ${written(high)}${unit}`;
  if (high !== null) return `at most ${written(high)}${unit}`;
  return low === null ? 'none' : `at least ${written(low)}${unit}`;
};
