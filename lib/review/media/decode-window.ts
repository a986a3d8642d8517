import type { Direction } from './frame-source';

export interface WindowLimits {
  ahead: number;
  behind: number;
}

/**
 * The frames worth having ready around `index`, most urgent first: those in the direction of travel by distance,
 * then a few on the other side for the step that goes back on itself. At rest both sides get the same.
 */
export function framesWorthReady(
  index: number,
  direction: Direction,
  frameCount: number,
  { ahead, behind }: WindowLimits,
): number[] {
  const side = (step: 1 | -1, most: number) =>
    Array.from({ length: most }, (_, at) => index + step * (at + 1)).filter(
      (at) => at >= 0 && at < frameCount,
    );
  if (direction === 0) return [...side(1, behind), ...side(-1, behind)];
  const travel = direction;
  return [...side(travel, ahead), ...side(travel === 1 ? -1 : 1, behind)];
}

/**
 * How many frames may be made ready so that they all fit the cache together with the run-in of a long group:
 * otherwise the last ones would push out the first and the work would never end.
 */
export function limitsFor(capacity: number): WindowLimits & { runIn: number } {
  return {
    ahead: Math.max(1, Math.min(24, Math.floor(capacity * 0.4))),
    behind: Math.max(0, Math.min(12, Math.floor(capacity * 0.2))),
    runIn: Math.max(1, Math.min(48, Math.floor(capacity * 0.35))),
  };
}
