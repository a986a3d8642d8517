import type { SpaceMeasure } from './quantities';

export const STATUSES = ['measured', 'estimate', 'refused'] as const;
export type Status = (typeof STATUSES)[number];

/** What may be said, and why not more. `reason` is null only for what is measured. */
export interface Standing {
  readonly status: Status;
  readonly reason: string | null;
}

export const MEASURED: Standing = { status: 'measured', reason: null };

/**
 * How many degrees a camera at this azimuth stands off the line square to the pitcher line, whether on the hitter's open
 * side or behind the back: 0 to 90.
 */
export const offSquare = (azimuth: number): number => {
  const a = Math.abs(azimuth);
  return Math.min(a, 180 - a);
};

/**
 * Limits in degrees off square. From our own simulated cameras: square from a side, head, knee, trunk and shoulders come
 * out within 1 unit and keep their order (R² 0.83 to 0.96); at 30 degrees they are 4 to 9 units off; from in front and
 * behind they say nothing. The stride's length is 2 cm off from the side, 4 to 6 elsewhere.
 */
const SQUARE = 10;
const OBLIQUE = 35;
const LENGTH_SQUARE = 15;

/** Half-widths of the interval above which a number is no more than an estimate, and above which it is none. */
const WIDEST: Record<SpaceMeasure, { measured: number; estimate: number }> = {
  'stride-foot-openness': { measured: 15, estimate: 30 },
  'stride-length': { measured: 10, estimate: 25 },
  'head-ahead-of-belt': { measured: 8, estimate: 20 },
  'front-knee-past-ankle': { measured: 8, estimate: 20 },
  'trunk-lean': { measured: 10, estimate: 20 },
  'shoulder-tilt': { measured: 10, estimate: 20 },
};

const SIDE = 'Film square from the open side, straight across from the middle of the hitter’s feet';

/** What may be said of a measure from where the camera stands (`azimuth` in degrees, seen from between the feet). */
export const standingByView = (name: SpaceMeasure, azimuth: number): Standing => {
  const off = Math.round(offSquare(azimuth));
  if (name === 'stride-foot-openness') return MEASURED;
  if (name === 'stride-length') {
    if (off <= LENGTH_SQUARE) return MEASURED;
    return {
      status: 'estimate',
      reason: `From ${off}° off square a stride comes out 4 to 6 cm wrong in our trials with simulated cameras. ${SIDE}, to measure it.`,
    };
  }
  if (off <= SQUARE) return MEASURED;
  if (off <= OBLIQUE) {
    return {
      status: 'estimate',
      reason: `The camera stands ${off}° off square, which shifts this number. ${SIDE} (within ${SQUARE}°), to measure it.`,
    };
  }
  return {
    status: 'refused',
    reason: `The camera stands ${off}° off square, so the picture does not show this. ${SIDE} (within ${SQUARE}°).`,
  };
};

/** What may be said of a measure whose interval has this half-width (degrees or centimetres). */
export const standingByWidth = (name: SpaceMeasure, half: number): Standing => {
  if (half <= WIDEST[name].measured) return MEASURED;
  return {
    status: half <= WIDEST[name].estimate ? 'estimate' : 'refused',
    reason:
      'The clicks leave too much room here. Set the corners of the box too, use the loupe, or film nearer and from ' +
      'higher up.',
  };
};

/** Of several standings the one that allows least; of equals the first. */
export const least = (...standings: readonly Standing[]): Standing =>
  standings.reduce((a, b) => (STATUSES.indexOf(b.status) > STATUSES.indexOf(a.status) ? b : a), MEASURED);

/** Measures that no single camera carries, each with why and what to do instead. */
export const NEVER = {
  'front-knee-flexion':
    'The bend of a knee on the picture is not its real bend: a leg turned away from the camera looks straighter ' +
    '(a real 40° looks like 29° with the foot at 45°). No single camera shows it; measure the front knee past the ' +
    'ankle from the open side instead.',
  'hip-openness':
    'A single camera does not show how far the hips are turned: from the side a turn hardly moves anything on the ' +
    'picture, from in front or behind it is too unsure. Judge it by eye from behind or in front.',
  'shoulder-openness':
    'A single camera does not show how far the shoulders are turned: from the side a turn hardly moves anything on ' +
    'the picture, from in front or behind it is too unsure. Judge it by eye from behind or in front.',
} as const;
