import { describeMark, MARK_NAME, placeOf } from '@/lib/domain/marks/describe';
import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { FramePoint, Mark } from '@/lib/domain/marks/mark';

/** Where a point is, to the hundredth of the picture: "42 across, 30 down, upper middle". */
export const sayPoint = (p: FramePoint): string =>
  `${Math.round(p.x * 100)} across, ${Math.round(p.y * 100)} down, ${placeOf(p)}`;

/** Said when the cross appears. */
export const sayCursor = (toolName: string, p: FramePoint): string =>
  `${toolName}. Cross at ${sayPoint(p)}. Arrow keys move it, Enter sets a point, Escape lets go.`;

/** Said when a point is set and others are to come. */
export const sayPointSet = (count: number, p: FramePoint): string => `Point ${count} set at ${sayPoint(p)}.`;

/** Said when a mark is chosen: what it is and what can be done. */
export const sayChosen = (mark: Mark, picture: PictureSize): string =>
  `Chosen: ${describeMark(mark, picture)}. Arrow keys move it, Enter takes a handle, Delete rubs it out.`;

/** Said when a handle is taken, or the whole mark again (null). */
export const sayHandle = (mark: Mark, index: number | null): string => {
  const point = index === null ? undefined : mark.points[index];
  if (index === null || !point) return `The whole ${MARK_NAME[mark.kind].toLowerCase()}.`;
  return `Handle ${index + 1} of ${mark.points.length}, at ${sayPoint(point)}.`;
};

/** Said after something was done to marks: drawn, moved, rubbed out, taken back, brought back. */
export const sayDone = (
  verb: 'Drawn' | 'Changed' | 'Rubbed out' | 'Taken back' | 'Brought back',
  marks: readonly Mark[],
  picture: PictureSize,
): string => {
  const [first] = marks;
  if (!first) return `${verb}: nothing.`;
  return marks.length === 1 ? `${verb}: ${describeMark(first, picture)}.` : `${verb}: ${marks.length} marks.`;
};
