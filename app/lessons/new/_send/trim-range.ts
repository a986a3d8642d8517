/** A part of a clip in whole tenths of a second, because that is the step of the handles. */
export interface TrimRange {
  start: number;
  end: number;
}

/** The shortest part that still holds a swing from load to finish, in tenths of a second. */
export const SHORTEST = 10;
/** Over this many seconds a cut is suggested. */
export const LONG_SECONDS = 12;

/** The first proposal for a long clip: its last eight seconds, because people stop filming soon after the swing. */
export const proposedRange = (length: number): TrimRange => ({
  start: Math.max(0, length - 80),
  end: length,
});

/** Moves one handle to where it was asked, held inside the clip and away from the other handle by the shortest part. */
export const moveHandle = (
  range: TrimRange,
  handle: 'start' | 'end',
  to: number,
  length: number,
): TrimRange => {
  const asked = Number.isFinite(to) ? Math.round(to) : range[handle];
  if (handle === 'start') {
    return { ...range, start: Math.max(0, Math.min(asked, range.end - SHORTEST)) };
  }
  return { ...range, end: Math.min(length, Math.max(asked, range.start + SHORTEST)) };
};
