import { distanceToMark } from '@/lib/domain/marks/geometry';
import type { FramePoint, Mark } from '@/lib/domain/marks/mark';
import { distanceToLabel, shapeOf } from './shape';
import { toFrame, toScreen, type ScreenPoint, type Viewport } from './viewport';

export type PointerKind = 'mouse' | 'touch' | 'pen';

/** How far from a shape a pointer may be and still mean it, in CSS pixels. Two fingers' reaches make the 44 px target. */
const REACH = { mouse: 8, pen: 12, touch: 22 } as const satisfies Record<PointerKind, number>;

/** A point of a mark that can be taken in hand. */
export interface Handle {
  readonly index: number;
  readonly point: FramePoint;
}

/** The points by which a mark can be reshaped. Words and free hand have none: they are moved whole. */
export const handlesOf = (mark: Mark): Handle[] => {
  switch (mark.kind) {
    case 'freehand':
    case 'text':
      return [];
    case 'line':
    case 'arrow':
    case 'circle':
    case 'angle':
    case 'plumb':
      return mark.points.map((point, index) => ({ index, point }));
    default:
      return mark satisfies never;
  }
};

/** How far a place is from a mark as it is seen, in CSS pixels; its words count as part of it. */
const distanceOnStage = (mark: Mark, place: ScreenPoint, v: Viewport): number => {
  const shape = distanceToMark(mark, toFrame(v, place), v.picture) * v.scale;
  const words = shapeOf(mark, v.picture, (p) => {
    const { left, top } = toScreen(v, p);
    return [left, top];
  }).map((part) => distanceToLabel(part, [place.left, place.top], v.stage));
  return mark.kind === 'text' ? Math.min(...words) : Math.min(shape, ...words);
};

/** The mark under a pointer: the nearest in reach, the one drawn last among equals; hidden ones are passed over. */
export const hitMark = (
  marks: readonly Mark[],
  place: ScreenPoint,
  v: Viewport,
  kind: PointerKind,
): Mark | null => {
  let hit: Mark | null = null;
  let nearest: number = REACH[kind];
  for (const mark of marks) {
    if (mark.hidden) continue;
    const away = distanceOnStage(mark, place, v);
    if (away <= nearest) {
      hit = mark;
      nearest = away;
    }
  }
  return hit;
};

/** The handle of a mark under a pointer, the nearest one in reach; null when there is none. */
export const hitHandle = (mark: Mark, place: ScreenPoint, v: Viewport, kind: PointerKind): Handle | null => {
  let hit: Handle | null = null;
  let nearest: number = REACH[kind] + 4;
  for (const handle of handlesOf(mark)) {
    const at = toScreen(v, handle.point);
    const away = Math.hypot(at.left - place.left, at.top - place.top);
    if (away <= nearest) {
      hit = handle;
      nearest = away;
    }
  }
  return hit;
};
