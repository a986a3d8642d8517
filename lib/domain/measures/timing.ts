import { MEASURED, type Standing } from './evidence';

/** Instants of a swing in milliseconds of real time, from any one zero, and the true pictures a second. */
export interface Moments {
  readonly load?: number | null | undefined;
  readonly footStrike?: number | null | undefined;
  readonly contact?: number | null | undefined;
  /** Pictures a second as the camera took them; null when it is not known. */
  readonly captureRate: number | null;
}

export interface Timed {
  readonly standing: Standing;
  readonly value: number | null;
  readonly half: number | null;
}

// Our own choice: below this a frame is too long for the times of a swing to be more than an estimate.
const FEWEST_PICTURES = 50;
const FEWEST_FRAMES = 2;

/**
 * Half the width of a 95 % interval in frames: each end is off by up to half a frame, evenly, so the difference is
 * spread as a triangle of one frame to each side, of which the outer 5 % lie beyond 1 - √0.05.
 */
const HALF_IN_FRAMES = 1 - Math.sqrt(0.05);

const refused = (reason: string): Timed => ({
  standing: { status: 'refused', reason },
  value: null,
  half: null,
});

/** The time between two moments of one clip in milliseconds, with half of its 95 % interval. */
export const timeBetween = (
  from: { readonly name: string; readonly at: number | null | undefined },
  to: { readonly name: string; readonly at: number | null | undefined },
  captureRate: number | null,
): Timed => {
  const missing = [from, to].filter(({ at }) => at == null).map(({ name }) => name);
  if (from.at == null || to.at == null)
    return refused(`Pin ${missing.join(' and ')} on this clip to get this time.`);
  if (captureRate === null) {
    return refused(
      'How many pictures a second the camera took is not known, so frames cannot be turned into time. Ask the player ' +
        'for the rate the phone was set to.',
    );
  }
  const value = to.at - from.at;
  const frame = 1000 / captureRate;
  if (value <= 0) return refused(`${capital(to.name)} is pinned before ${from.name}. Check the two pins.`);
  if (value < FEWEST_FRAMES * frame) {
    return refused(
      `The two moments lie less than ${FEWEST_FRAMES} frames apart, which is too short for this clip’s rate. Film with ` +
        'more pictures a second.',
    );
  }
  const standing: Standing =
    captureRate >= FEWEST_PICTURES
      ? MEASURED
      : {
          status: 'estimate',
          reason: `At ${Math.round(captureRate)} pictures a second a frame lasts ${Math.round(frame)} ms. Film with 120 or more to measure it.`,
        };
  return { standing, value, half: HALF_IN_FRAMES * frame };
};

const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);
