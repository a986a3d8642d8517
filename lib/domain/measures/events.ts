import { Matrix, solve } from 'ml-matrix';
import { filled, median, robustSd, smoothed, withoutSpikes, type Smoothed } from './smooth';

/** Points of the body that are followed from frame to frame, by the hitter's own left and right. */
export const TRACK_NAMES = [
  'left-wrist',
  'right-wrist',
  'left-hip',
  'right-hip',
  'left-ankle',
  'right-ankle',
  'left-toe',
  'right-toe',
] as const;
export type TrackName = (typeof TRACK_NAMES)[number];

/** Where a point is on each frame in pixels, null where it was not found. All of one length. */
export type Tracks = Readonly<Partial<Record<TrackName, readonly ({ x: number; y: number } | null)[]>>>;

/** Where somebody may look first, in frames by display index and fractions of one. They decide nothing. */
export interface SuggestedMoments {
  /** Toe down; null where the way of the foot does not tell it within a frame, as mostly from behind the plate. */
  readonly footStrike: number | null;
  /** Where the hands are fastest: up to four frames of 60 a second beside contact. The sound is better (`contactBySound`). */
  readonly contactByHands: number;
  /** The foot that strides, as seen in its travel. */
  readonly front: 'left' | 'right';
}

// Seconds.
const WINDOWS = {
  spike: 0.05,
  hands: 0.035,
  foot: 0.03,
  /** Before the hands are fastest: where the stride lies; and round it: where the foot is down. */
  stride: 1.1,
  plantedBefore: 0.04,
  plantedAfter: 0.14,
} as const;
const LEAST_PIXELS = 0.5;
const PLANTED_SDS = 2.5;
const PLANTED_SHARE = 0.02;

type Axis = Smoothed & { readonly clean: readonly number[] };

interface Path {
  readonly x: Axis;
  readonly y: Axis;
}

const framesOf = (seconds: number, rate: number, least = 2) => Math.max(least, Math.round(seconds * rate));

const pathOf = (tracks: Tracks, name: TrackName, rate: number, window: number): Path | null => {
  const track = tracks[name];
  const axis = (of: 'x' | 'y'): Axis | null => {
    const values = track && filled(track.map((point) => point && point[of]));
    if (!values) return null;
    const clean = withoutSpikes(values, framesOf(WINDOWS.spike, rate), LEAST_PIXELS);
    return { clean, ...smoothed(clean, framesOf(window, rate)) };
  };
  const x = axis('x');
  const y = axis('y');
  return x && y && { x, y };
};

const at = (values: readonly number[], i: number) => values[i] ?? 0;

const indexOfMost = (values: readonly number[]) =>
  values.reduce((most, value, i) => (value > at(values, most) ? i : most), 0);

// Pixels from hip to ankle: what a leg takes on this picture.
const legLength = (tracks: Tracks): number => {
  const lengths = (['left', 'right'] as const).flatMap((side) =>
    (tracks[`${side}-hip`] ?? []).flatMap((hip, i) => {
      const ankle = tracks[`${side}-ankle`]?.[i];
      return hip && ankle ? [Math.hypot(ankle.x - hip.x, ankle.y - hip.y)] : [];
    }),
  );
  return median(lengths);
};

const travel = (values: readonly number[]) => Math.max(...values) - Math.min(...values);

/**
 * Foot strike and contact from followed points of a clip taken at `rate` pictures a second: contact about where the
 * hands are fastest; the front foot is the one that travels more up and down before it; foot strike by walking back from
 * where it stands until it is somewhere else. Null when hands, feet or hips were not followed, or nobody swings.
 */
export const suggestMoments = (tracks: Tracks, rate: number): SuggestedMoments | null => {
  const hands = (['left-wrist', 'right-wrist'] as const)
    .map((name) => pathOf(tracks, name, rate, WINDOWS.hands))
    .filter((path) => path !== null);
  const leg = legLength(tracks);
  const length = hands[0]?.x.value.length ?? 0;
  if (length === 0 || !Number.isFinite(leg)) return null;
  const speed = Array.from({ length }, (_, i) =>
    hands.reduce((sum, { x, y }) => sum + Math.hypot(at(x.slope, i), at(y.slope, i)), 0),
  );
  const contact = indexOfMost(speed);

  const from = Math.max(0, contact - framesOf(WINDOWS.stride, rate));
  const feet = (['left', 'right'] as const).flatMap((side) => {
    const path =
      pathOf(tracks, `${side}-toe`, rate, WINDOWS.foot) ??
      pathOf(tracks, `${side}-ankle`, rate, WINDOWS.foot);
    return path ? [{ side, path, lift: travel(path.y.value.slice(from, contact + 1)) }] : [];
  });
  const [front] = feet.sort((a, b) => b.lift - a.lift);
  if (!front || front.lift < PLANTED_SHARE * leg) return null;
  return { footStrike: strikeOf(front.path, contact, leg, rate), contactByHands: contact, front: front.side };
};

// Frames before the stop that a foot's way to it is fitted over, and how finely the stop is looked for.
const APPROACH = 0.15;
const SEARCH_BEFORE = 0.05;
const SEARCH_AFTER = 0.3;
const FINENESS = 0.25;
/** A foot strike that may as well be further off, in seconds, is not suggested. */
const MOST_UNSURE = 1 / 60;

const strikeOf = ({ x, y }: Path, contact: number, leg: number, rate: number): number | null => {
  const first = Math.max(0, contact - framesOf(WINDOWS.plantedBefore, rate));
  const last = contact + framesOf(WINDOWS.plantedAfter, rate);
  const planted = { x: median(x.value.slice(first, last + 1)), y: median(y.value.slice(first, last + 1)) };
  const away = x.value.map((value, i) => Math.hypot(value - planted.x, at(y.value, i) - planted.y));
  const limit = Math.max(PLANTED_SDS * robustSd(away.slice(first, last + 1)), PLANTED_SHARE * leg);
  for (let i = first; i > 0; i -= 1) {
    if (at(away, i) > limit && at(away, i - 1) > limit) return stopOf([x.clean, y.clean], i, last, rate);
  }
  return null;
};

/**
 * The frame, in fractions, from which a point stands still, near a frame on which it still moves: before it a smooth way
 * to the place, after it the place alone, whichever instant leaves the least unexplained.
 */
const stopOf = (
  axes: readonly (readonly number[])[],
  moving: number,
  last: number,
  rate: number,
): number | null => {
  const from = Math.max(0, moving - framesOf(APPROACH, rate));
  const frames = Array.from({ length: last - from + 1 }, (_, k) => from + k);
  const steps = Math.round((rate * (SEARCH_BEFORE + SEARCH_AFTER)) / FINENESS);
  const candidates = Array.from(
    { length: steps + 1 },
    (_, k) => moving - rate * SEARCH_BEFORE + k * FINENESS,
  );
  const misfit = (stop: number) => {
    const rows = new Matrix(
      frames.map((frame) => {
        const before = Math.max(0, stop - frame) / rate;
        return [1, before ** 2, before ** 3];
      }),
    );
    return axes.reduce((sum, axis) => {
      const seen = Matrix.columnVector(frames.map((frame) => at(axis, frame)));
      return sum + Matrix.sub(rows.mmul(solve(rows, seen)), seen).norm() ** 2;
    }, 0);
  };
  const tried = candidates.map((stop) => ({ stop, off: misfit(stop) }));
  const best = tried.reduce((a, b) => (b.off < a.off ? b : a));
  // How far the stop may be moved before the misfit grows by that of two standard deviations.
  const noise = best.off / (axes.length * (frames.length - 3) - 1);
  const allowed = tried.filter(({ off }) => off <= best.off + 4 * noise).map(({ stop }) => stop);
  const unsure = (Math.max(...allowed) - Math.min(...allowed)) / 2;
  return unsure > MOST_UNSURE * rate ? null : best.stop;
};
