import type { PlayClock } from '../player/clock';

/** How far somebody has watched. */
export interface Progress {
  ms: number;
  furthestMs: number;
  isOver: boolean;
}

const TELL_EVERY_MS = 5000;

/** Tells how far a breakdown was watched: now and then while it plays, and at once when `isLast`. Never twice the same. */
export const createWatched = (clock: Pick<PlayClock, 'now'>, tell: (progress: Progress) => void) => {
  let told: Progress | null = null;
  let toldAt = -Infinity;
  return (progress: Progress, isLast: boolean): void => {
    if (!isLast && clock.now() - toldAt < TELL_EVERY_MS) return;
    const isSame =
      told?.ms === progress.ms && told.furthestMs === progress.furthestMs && told.isOver === progress.isOver;
    if (isSame) return;
    told = progress;
    toldAt = clock.now();
    tell(progress);
  };
};
