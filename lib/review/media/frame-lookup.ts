/**
 * Lookups in a strictly rising list of timestamps in integer microseconds (a frame table). Indices are clamped to
 * the list; an empty list is a programming error and gives 0.
 */

/** The frame that is on screen at `us`: the last one that starts at or before it, the first one before that. */
export function frameAtTime(ptsUs: readonly number[], us: number): number {
  let low = 0;
  let high = ptsUs.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((ptsUs[middle] ?? Infinity) <= us) low = middle;
    else high = middle - 1;
  }
  return Math.max(0, low);
}

/** The frame whose timestamp is nearest to `us`; the earlier one of two that are equally near. */
export function nearestFrame(ptsUs: readonly number[], us: number): number {
  const before = frameAtTime(ptsUs, us);
  const after = Math.min(ptsUs.length - 1, before + 1);
  return Math.abs((ptsUs[after] ?? 0) - us) < Math.abs((ptsUs[before] ?? 0) - us) ? after : before;
}

/** How long a frame stays, in microseconds; the last one as long as the one before it (40 ms when it is alone). */
export function frameDurationUs(ptsUs: readonly number[], index: number): number {
  const here = ptsUs[index];
  const next = ptsUs[index + 1];
  if (here !== undefined && next !== undefined) return next - here;
  const before = ptsUs[index - 1];
  return here !== undefined && before !== undefined ? here - before : 40_000;
}

/** The middle of a frame's time: where a seek by time lands in it whatever the rounding. */
export const middleOfFrameUs = (ptsUs: readonly number[], index: number): number =>
  (ptsUs[index] ?? 0) + Math.floor(frameDurationUs(ptsUs, index) / 2);

/** Holds an index inside the list. Non-finite input gives 0. */
export function clampFrame(index: number, frameCount: number): number {
  if (!Number.isFinite(index)) return 0;
  return Math.min(Math.max(0, Math.round(index)), Math.max(0, frameCount - 1));
}
