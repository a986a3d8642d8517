import type { FrameTable } from '@/lib/domain/clips/frame-table';
import type { PictureSize } from '@/lib/domain/marks/geometry';
import { suggestMoments } from '@/lib/domain/measures/events';
import { tracksOf } from './body-points';
import type { ModelPoint } from './pose-protocol';

/** Where a coach may look first, by display index; null where the tracks do not tell. Nothing is pinned by it. */
export interface FoundMoments {
  readonly footStrike: number | null;
  readonly contact: number;
}

/** As many pictures of a second as a foot strike within a frame of 60 needs, and no more: each costs time. */
const RATE = 60;
/** Four seconds: a swing with its load. */
const MOST_FRAMES = 240;

/** The frames to look at and how many of them a second there are: about 60 a second, at most four seconds around a frame. */
export interface FramePlan {
  readonly frames: readonly number[];
  readonly rate: number;
}

const rateOf = ({ captureRate, fileRate, ptsUs }: FrameTable): number => {
  const lasting = (ptsUs.at(-1) ?? 0) - (ptsUs[0] ?? 0);
  return captureRate ?? fileRate ?? (lasting > 0 ? ((ptsUs.length - 1) * 1e6) / lasting : RATE);
};

export const planFrames = (table: FrameTable, around: number): FramePlan => {
  const rate = rateOf(table);
  const step = Math.max(1, Math.round(rate / RATE));
  const last = table.ptsUs.length - 1;
  const reach = step * (MOST_FRAMES - 1);
  const from = Math.max(0, Math.min(around - Math.floor(reach / 2), last - reach));
  const count = Math.min(MOST_FRAMES, Math.floor((last - from) / step) + 1);
  return { frames: Array.from({ length: count }, (_, i) => from + i * step), rate: rate / step };
};

/** Foot strike and contact from what was found on the planned frames; null when it does not show a swing. */
export const momentsFrom = (
  plan: FramePlan,
  found: readonly (readonly ModelPoint[] | null)[],
  size: PictureSize,
): FoundMoments | null => {
  const moments = suggestMoments(tracksOf(found, size), plan.rate);
  if (!moments) return null;
  const [first = 0, second = first + 1] = plan.frames;
  const frameOf = (place: number) => {
    const inside = Math.max(0, Math.min(place, plan.frames.length - 1));
    return Math.round(first + inside * (second - first));
  };
  const { footStrike, contactByHands } = moments;
  return { footStrike: footStrike === null ? null : frameOf(footStrike), contact: frameOf(contactByHands) };
};
