import type { PictureSize } from './geometry';
import type { FramePoint, Mark, MarkKind } from './mark';
import { angleOf } from './on-screen-angle';

/** The name of each kind of mark as people read and hear it. */
export const MARK_NAME = {
  line: 'Line',
  arrow: 'Arrow',
  circle: 'Ring',
  angle: 'On-screen angle',
  freehand: 'Free hand',
  text: 'Words',
  plumb: 'Plumb line',
} as const satisfies Record<MarkKind, string>;

/** Where a point lies on the picture, in words: "upper left", "middle", "lower right". */
export const placeOf = (p: FramePoint): string => {
  if (p.x < 0 || p.x > 1 || p.y < 0 || p.y > 1) return 'just outside the picture';
  const row = p.y < 1 / 3 ? 'upper' : p.y > 2 / 3 ? 'lower' : 'middle';
  const column = p.x < 1 / 3 ? 'left' : p.x > 2 / 3 ? 'right' : 'middle';
  return row === 'middle' && column === 'middle' ? 'middle' : `${row} ${column}`;
};

/**
 * One sentence for the list of marks and for a screen reader, as in "Plumb line, white, from the upper middle down,
 * frame 138, for Head over belt". `itemTitle` is the checklist item it explains, if any.
 */
export const describeMark = (mark: Mark, size: PictureSize, itemTitle: string | null = null): string => {
  const parts = [MARK_NAME[mark.kind], mark.chalk, layOf(mark, size), framesOf(mark)];
  if (itemTitle) parts.push(`for ${itemTitle}`);
  if (mark.hidden) parts.push('hidden');
  return parts.join(', ');
};

const layOf = (mark: Mark, size: PictureSize): string => {
  const the = (p: FramePoint) => {
    const place = placeOf(p);
    return place.startsWith('just') ? place : `the ${place}`;
  };
  switch (mark.kind) {
    case 'line':
    case 'arrow':
      return `from ${the(mark.points[0])} to ${the(mark.points[1])}`;
    case 'circle':
      return `around ${the(mark.points[0])}`;
    case 'angle': {
      const degrees = angleOf(mark, size);
      return `${degrees === null ? 'no angle yet' : `${degrees} degrees`} at ${the(mark.points[1])}`;
    }
    case 'freehand': {
      const first = mark.points[0];
      const last = mark.points.at(-1);
      return first && last ? `from ${the(first)} to ${the(last)}` : 'empty';
    }
    case 'text':
      return `“${mark.text}” at ${the(mark.points[0])}`;
    case 'plumb': {
      const top = mark.points[0].y <= mark.points[1].y ? mark.points[0] : mark.points[1];
      return `from ${the(top)} down`;
    }
    default:
      return mark satisfies never;
  }
};

const framesOf = (mark: Mark): string =>
  mark.span === 1 ? `frame ${mark.frame}` : `frames ${mark.frame} to ${mark.frame + mark.span - 1}`;
