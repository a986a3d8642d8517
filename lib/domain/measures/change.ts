import type { ClipView } from '../clips/clip';
import type { Measure } from './measure';

/** How a number was come by, as far as that decides what it can be compared with. */
export interface Conditions {
  readonly view: ClipView | null;
  /** Pictures a second as they were taken. */
  readonly captureRate: number | null;
  /** How the ball came: tee, toss, machine or live. */
  readonly task: string | null;
}

/** A measure of one session: all swings of one lesson are one. */
export interface Occasion {
  readonly measure: Measure;
  readonly conditions: Conditions;
  readonly sessionId: string;
}

/**
 * Degrees below which an angle of another session is not called changed, however narrow its intervals: our own choice,
 * derived from 1.96 · √2 times the standard error of measurement of 3.44 degrees of raters of two-dimensional video.
 */
export const SESSION_NOISE_DEG = 10;
export const SESSION_NOISE_SOURCE = 'Cleary CJ et al. 2024, JOSPT Open, doi 10.2519/josptopen.2024.0051';

export type Difference = 'view' | 'rate' | 'task';

export type Change =
  | {
      readonly kind: 'change' | 'within-noise';
      /** After less before, in the measure's unit. */
      readonly difference: number;
      /** A difference up to this size may be noise. */
      readonly noise: number;
    }
  | {
      readonly kind: 'not-compared';
      readonly because: readonly (Difference | 'no-number' | 'other-measure')[];
    };

/** Which conditions of two numbers differ, so that they are not joined. What is not known differs from nothing. */
export const unlike = (a: Conditions, b: Conditions): Difference[] => {
  const differs = <T>(x: T | null, y: T | null) => x !== null && y !== null && x !== y;
  const found: [Difference, boolean][] = [
    ['view', differs(a.view, b.view)],
    ['rate', differs(a.captureRate, b.captureRate)],
    ['task', differs(a.task, b.task)],
  ];
  return found.filter(([, isUnlike]) => isUnlike).map(([difference]) => difference);
};

/**
 * Whether a measure changed by more than noise from one occasion to another: the difference against the two intervals
 * put together (root of the sum of squares of their halves) and, for angles of two sessions, against
 * `SESSION_NOISE_DEG`. Numbers that were come by in different ways, or that are none, are not compared.
 */
export const compareMeasures = (before: Occasion, after: Occasion): Change => {
  if (before.measure.name !== after.measure.name) return { kind: 'not-compared', because: ['other-measure'] };
  const [a, b] = [numberOf(before.measure), numberOf(after.measure)];
  if (!a || !b) return { kind: 'not-compared', because: ['no-number'] };
  const because = unlike(before.conditions, after.conditions);
  if (because.length > 0) return { kind: 'not-compared', because };
  const isOtherSession = before.sessionId !== after.sessionId;
  const isAngle = before.measure.unit === 'deg';
  const noise = Math.max(Math.hypot(a.half, b.half), isAngle && isOtherSession ? SESSION_NOISE_DEG : 0);
  const difference = b.value - a.value;
  return { kind: Math.abs(difference) > noise ? 'change' : 'within-noise', difference, noise };
};

const numberOf = ({ value, interval }: Measure): { value: number; half: number } | null =>
  value === null || interval === null ? null : { value, half: (interval[1] - interval[0]) / 2 };
