import { clampFrame, nearestFrame } from '../media/frame-lookup';

export const SIDES = ['a', 'b'] as const;
export type Side = (typeof SIDES)[number];
export const otherSide = (side: Side): Side => (side === 'a' ? 'b' : 'a');

/**
 * One clip of a pair: its timestamps in microseconds of the file, how many of these pass in one real microsecond
 * (`stretchOf` of the player), and the frame at which it is locked to the other.
 */
export interface PairedClip {
  readonly ptsUs: readonly number[];
  readonly stretch: number;
  readonly lockedFrame: number;
}

/** One step of a pair: the frame of each clip, and the real microseconds from the locked frames (negative before). */
export interface Moment {
  readonly a: number;
  readonly b: number;
  readonly us: number;
}

/** Real microseconds from the locked frame of a clip to another of its frames; negative before it. */
export function realUsFromLock({ ptsUs, stretch, lockedFrame }: PairedClip, frame: number): number {
  const at = (index: number) => ptsUs[clampFrame(index, ptsUs.length)] ?? 0;
  return (at(frame) - at(lockedFrame)) / stretch;
}

/**
 * The frame of a clip that was taken nearest to a real time from its locked frame, never the last one before it; the
 * earlier of two that are equally near, the first or last one beyond the clip's ends.
 */
export function frameAtReal({ ptsUs, stretch, lockedFrame }: PairedClip, us: number): number {
  const lockedUs = ptsUs[clampFrame(lockedFrame, ptsUs.length)] ?? 0;
  return nearestFrame(ptsUs, lockedUs + us * stretch);
}

/** The frame of the other clip that goes with a frame of this one, by real time from the locked frames. */
export const partnerFrame = (of: PairedClip, frame: number, other: PairedClip): number =>
  frameAtReal(other, realUsFromLock(of, frame));

/** Real microseconds from one picture to the next on average; infinite for a single picture. */
const spacingOf = ({ ptsUs, stretch }: PairedClip): number =>
  ptsUs.length < 2 ? Infinity : ((ptsUs.at(-1) ?? 0) - (ptsUs[0] ?? 0)) / (ptsUs.length - 1) / stretch;

/** The clip with more pictures in a real second, whose frames are the steps of the pair; `a` when both have as many. */
export const finerSide = (a: PairedClip, b: PairedClip): Side => (spacingOf(b) < spacingOf(a) ? 'b' : 'a');

/**
 * Every step of a pair in order of time: one for each frame of the finer clip, and, where the other begins earlier or
 * ends later, one for each of its frames there, beside the finer clip's first or last frame.
 */
export function momentsOf(a: PairedClip, b: PairedClip): Moment[] {
  const isLedByA = finerSide(a, b) === 'a';
  const [lead, other] = isLedByA ? [a, b] : [b, a];
  const moment = (leadFrame: number, otherFrame: number, us: number): Moment =>
    isLedByA ? { a: leadFrame, b: otherFrame, us } : { a: otherFrame, b: leadFrame, us };
  const led = lead.ptsUs.map((_, frame) => {
    const us = realUsFromLock(lead, frame);
    return moment(frame, frameAtReal(other, us), us);
  });
  const last = lead.ptsUs.length - 1;
  const first = realUsFromLock(lead, 0);
  const end = realUsFromLock(lead, last);
  const firstPartner = frameAtReal(other, first);
  const lastPartner = frameAtReal(other, end);
  const beyond = other.ptsUs.map((_, frame) => ({ frame, us: realUsFromLock(other, frame) }));
  return [
    ...beyond
      .filter(({ frame, us }) => us < first && frame < firstPartner)
      .map(({ frame, us }) => moment(0, frame, us)),
    ...led,
    ...beyond
      .filter(({ frame, us }) => us > end && frame > lastPartner)
      .map(({ frame, us }) => moment(last, frame, us)),
  ];
}

/** Whether a clip has no picture at that real time any more, or not yet: by more than half the time between two. */
export function isBeyond(clip: PairedClip, us: number): 'before' | 'after' | null {
  const half = Math.min(spacingOf(clip) / 2, 40_000);
  if (us < realUsFromLock(clip, 0) - half) return 'before';
  return us > realUsFromLock(clip, clip.ptsUs.length - 1) + half ? 'after' : null;
}
