/** The short side of a review rendition is at most this many pixels. */
export const SHORT_SIDE = 720;
/** Beyond this a phone's decoder may refuse, whatever the short side is. */
const LONG_SIDE = 4096;

const even = (pixels: number) => Math.max(2, Math.floor(pixels / 2) * 2);

/** The size of the review rendition of an upright picture: never larger than it, short side 720 at most, even sides. */
export function renditionSize(width: number, height: number): { width: number; height: number } {
  const scale = Math.min(1, SHORT_SIDE / Math.min(width, height), LONG_SIDE / Math.max(width, height));
  return { width: even(Math.round(width * scale)), height: even(Math.round(height * scale)) };
}

/** Frames from one key frame to the next: 6 keeps a step back cheap; long clips of fast cameras take 12 for their size. */
export const keyFrameDistance = (frames: number, rate: number): number =>
  rate > 120 && frames > 1000 ? 12 : 6;

/**
 * Ticks made strictly rising in display order: a tick that is missing (null) or does not rise follows its forerunner by
 * one. Files of broken recorders carry such ticks, and two frames must never share an address.
 */
export function risingTick(tick: bigint | null, before: bigint | null): bigint {
  if (before === null) return tick ?? 0n;
  return tick !== null && tick > before ? tick : before + 1n;
}

/** Ticks of num/den seconds as integer microseconds, nearest, halves up. Ticks are not negative. */
export function ticksToMicroseconds(ticks: bigint, base: { num: number; den: number }): number {
  const den = BigInt(base.den);
  return Number((ticks * BigInt(base.num) * 2_000_000n + den) / (2n * den));
}

/**
 * Pictures a second by rising timestamps in microseconds: by the median step, or by the mean where the two differ by
 * less than a millisecond (containers that count milliseconds round every step). Null for fewer than two frames.
 */
export function medianRate(ptsUs: readonly number[]): number | null {
  const steps = ptsUs.slice(1).map((pts, index) => pts - (ptsUs[index] ?? 0));
  if (steps.length === 0) return null;
  const mean = steps.reduce((sum, step) => sum + step, 0) / steps.length;
  steps.sort((a, b) => a - b);
  const median = ((steps[(steps.length - 1) >> 1] ?? 0) + (steps[steps.length >> 1] ?? 0)) / 2;
  const step = Math.abs(median - mean) < 1000 ? mean : median;
  return step > 0 ? Math.round(1e9 / step) / 1000 : null;
}

/**
 * The rate at which the pictures were taken: as the phone wrote it into the file, else the rate at which the file
 * plays, which may be a slow motion stretched to 30, so that a person is asked (`isSure` false).
 */
export function captureRate(
  metadata: Readonly<Record<string, string>>,
  fileRate: number | null,
): { rate: number | null; isSure: boolean } {
  for (const [key, value] of Object.entries(metadata)) {
    // Android's MediaMuxer writes `com.android.capture.fps`; other makers use the same ending.
    if (!/(^|[._-])capture[._-]?(fps|frame[._-]?rate)$/i.test(key)) continue;
    const rate = Number(value);
    if (rate >= 1 && rate <= 2000) return { rate: Math.round(rate * 1000) / 1000, isSure: true };
  }
  return { rate: fileRate, isSure: false };
}
