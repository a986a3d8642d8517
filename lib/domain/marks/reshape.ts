import type { FramePoint, Mark } from './mark';

/** The furthest a stored point may lie outside the picture, as fractions (see `framePointSchema`). */
const LEAST = -0.5;
const MOST = 1.5;

/** The nearest point that a mark may have. */
export const clampPoint = (p: FramePoint): FramePoint => ({
  x: Math.min(MOST, Math.max(LEAST, p.x)),
  y: Math.min(MOST, Math.max(LEAST, p.y)),
});

/** Applies `change` to every point of a mark and leaves the rest as it is. */
export const mapPoints = (mark: Mark, change: (p: FramePoint, index: number) => FramePoint): Mark => {
  switch (mark.kind) {
    case 'line':
    case 'arrow':
    case 'circle':
    case 'plumb':
      return { ...mark, points: [change(mark.points[0], 0), change(mark.points[1], 1)] };
    case 'angle':
      return {
        ...mark,
        points: [change(mark.points[0], 0), change(mark.points[1], 1), change(mark.points[2], 2)],
      };
    case 'text':
      return { ...mark, points: [change(mark.points[0], 0)] };
    case 'freehand':
      return { ...mark, points: mark.points.map(change) };
    default:
      return mark satisfies never;
  }
};

/** The mark shifted by fractions of the picture, without changing its form: it stops where a point would leave the allowed range. */
export const moveMark = (mark: Mark, by: FramePoint): Mark => {
  const xs = mark.points.map((p) => p.x);
  const ys = mark.points.map((p) => p.y);
  const dx = Math.min(MOST - Math.max(...xs), Math.max(LEAST - Math.min(...xs), by.x));
  const dy = Math.min(MOST - Math.max(...ys), Math.max(LEAST - Math.min(...ys), by.y));
  return mapPoints(mark, (p) => clampPoint({ x: p.x + dx, y: p.y + dy }));
};

/**
 * The mark with one of its points put elsewhere. A plumb line stays vertical, so both ends take the new x; a ring
 * taken by its centre moves whole. An index that the mark does not have changes nothing.
 */
export const reshapeMark = (mark: Mark, index: number, to: FramePoint): Mark => {
  const target = clampPoint(to);
  const held = mark.points[index];
  if (!held || mark.kind === 'freehand') return mark;
  if (mark.kind === 'circle' && index === 0)
    return moveMark(mark, { x: target.x - held.x, y: target.y - held.y });
  if (mark.kind === 'plumb') {
    return mapPoints(mark, (p, i) => ({ x: target.x, y: i === index ? target.y : p.y }));
  }
  return mapPoints(mark, (p, i) => (i === index ? target : p));
};

/** The mark as it lies on the picture seen in a mirror: left and right change places, words stay readable. */
export const mirrorMark = (mark: Mark): Mark => mapPoints(mark, (p) => ({ x: 1 - p.x, y: p.y }));
