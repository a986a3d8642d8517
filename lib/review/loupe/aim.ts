import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { FramePoint } from '@/lib/domain/marks/mark';
import { toScreen, type ScreenPoint, type Viewport } from '../canvas/viewport';

/** How far an arrow key moves the point, in pixels of the rendition; with Shift the coarse one. */
export const FINE_STEP = 0.25;
export const COARSE_STEP = 5;
/** A drag moves the point this part of the hand's way. */
export const DRAG_SHARE = 0.25;
/** Within so many CSS pixels a press takes a point that is there already instead of setting another one. */
export const REACH = { mouse: 7, pen: 9, touch: 16 } as const;

const clamp = (value: number) => Math.min(1, Math.max(0, value));

/** The nearest point that lies on the picture. */
export const onPicture = (p: FramePoint): FramePoint => ({ x: clamp(p.x), y: clamp(p.y) });

/** The point moved by pixels of the rendition, held on the picture. */
export const nudged = (p: FramePoint, dx: number, dy: number, picture: PictureSize): FramePoint =>
  onPicture({ x: p.x + dx / picture.width, y: p.y + dy / picture.height });

/** The point moved by a drag over so many CSS pixels of the stage, held on the picture. */
export const dragged = (p: FramePoint, by: ScreenPoint, v: Viewport): FramePoint =>
  nudged(p, (by.left * DRAG_SHARE) / v.scale, (by.top * DRAG_SHARE) / v.scale, v.picture);

/** The nearest of `points` within reach of a place on the stage, by its index; null when none is. */
export const pointNear = (
  points: readonly FramePoint[],
  place: ScreenPoint,
  v: Viewport,
  reach: number,
): number | null => {
  let [best, least]: [number | null, number] = [null, reach];
  points.forEach((point, index) => {
    const at = toScreen(v, point);
    const far = Math.hypot(at.left - place.left, at.top - place.top);
    if (far <= least) [best, least] = [index, far];
  });
  return best;
};

/** Where a point is, in pixels of the rendition from its top left: "512.25 across, 300.50 down". */
export const sayAim = (p: FramePoint, picture: PictureSize): string =>
  `${(p.x * picture.width).toFixed(2)} across, ${(p.y * picture.height).toFixed(2)} down`;
