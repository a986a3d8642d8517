import type { FrameTable } from '@/lib/domain/clips/frame-table';
import { frameAtTime, frameDurationUs } from '../media/frame-lookup';

/** Parts of the speed at which it really happened. */
export const SPEEDS = [0.125, 0.25, 0.5, 1] as const;
export type Speed = (typeof SPEEDS)[number];

/** Two display indices, `from` before `to`; both are shown. */
export interface Loop {
  from: number;
  to: number;
}

/**
 * Microseconds of the file that pass in one real microsecond at speed 1. A phone's slow motion is stretched in the
 * file; with a known capture rate 1 means as fast as it happened, else as fast as the file says.
 */
export function stretchOf(table: FrameTable): number {
  const { ptsUs, captureRate } = table;
  const spanUs = (ptsUs.at(-1) ?? 0) - (ptsUs[0] ?? 0);
  const fileRate = table.fileRate ?? (spanUs > 0 ? ((ptsUs.length - 1) * 1e6) / spanUs : null);
  return captureRate !== null && fileRate !== null ? captureRate / fileRate : 1;
}

/**
 * Which frame is on at `us` of the file's time (microseconds), and whether the clip is over by then. In a loop
 * the time wraps, so it is never over.
 */
export function playheadAt(
  ptsUs: readonly number[],
  us: number,
  loop: Loop | null,
): { index: number; us: number; isOver: boolean } {
  const endOf = (index: number) => (ptsUs[index] ?? 0) + frameDurationUs(ptsUs, index);
  if (!loop) {
    const last = ptsUs.length - 1;
    return { index: frameAtTime(ptsUs, us), us, isOver: us >= endOf(last) };
  }
  const start = ptsUs[loop.from] ?? 0;
  const span = endOf(loop.to) - start;
  const wrapped = start + ((((us - start) % span) + span) % span);
  return {
    index: Math.min(loop.to, Math.max(loop.from, frameAtTime(ptsUs, wrapped))),
    us: wrapped,
    isOver: false,
  };
}
