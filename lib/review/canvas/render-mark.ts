import type { FramePoint, Mark } from '@/lib/domain/marks/mark';
import { handlesOf } from './hit-test';
import {
  CHALK_COLOUR,
  EDGE,
  EDGE_COLOUR,
  EDGE_OPACITY,
  labelBox,
  LABEL_FONT,
  LABEL_OPACITY,
  shapeOf,
} from './shape';
import { toScreen, type Viewport } from './viewport';

/** In CSS pixels of the stage. */
const POINTER_RADIUS = 15;

type Canvas2d = CanvasRenderingContext2D;

const onStage = (v: Viewport) => (p: FramePoint) => {
  const { left, top } = toScreen(v, p);
  return [left, top] as const;
};

/** Paints one mark on a canvas whose unit is a CSS pixel of the stage. Each stroke is laid twice, the edge first. */
export const paintMark = (ctx: Canvas2d, mark: Mark, v: Viewport): void => {
  if (mark.hidden) return;
  const colour = CHALK_COLOUR[mark.chalk];
  ctx.save();
  ctx.lineCap = 'round';
  ctx.lineJoin = 'round';
  for (const part of shapeOf(mark, v.picture, onStage(v))) {
    if (part.type === 'stroke') {
      const path = new Path2D(part.d);
      ctx.setLineDash([...part.dash]);
      lay(ctx, EDGE_COLOUR, EDGE_OPACITY, () => strokeWith(ctx, path, part.width + EDGE));
      lay(ctx, colour, 1, () => strokeWith(ctx, path, part.width));
    } else if (part.type === 'outline') {
      lay(ctx, EDGE_COLOUR, EDGE_OPACITY, () => ctx.fill(new Path2D(part.edge)));
      lay(ctx, colour, 1, () => ctx.fill(new Path2D(part.body)));
    } else {
      ctx.font = LABEL_FONT;
      const box = labelBox(part, ctx.measureText(part.text).width, v.stage);
      lay(ctx, EDGE_COLOUR, LABEL_OPACITY, () => ctx.fillRect(box.left, box.top, box.width, box.height));
      lay(ctx, part.colour, 1, () => ctx.fillText(part.text, box.textLeft, box.baseline));
    }
  }
  ctx.restore();
};

/** Paints the handles of the chosen mark; the one in hand is filled with sky. */
export const paintHandles = (ctx: Canvas2d, mark: Mark, v: Viewport, inHand: number | null): void => {
  for (const handle of handlesOf(mark))
    paintDot(ctx, v, handle.point, handle.index === inHand ? CHALK_COLOUR.sky : CHALK_COLOUR.white);
};

/** Paints a small dot on a point: a handle, or a point that is set while the others are still to come. */
export const paintDot = (
  ctx: Canvas2d,
  v: Viewport,
  point: FramePoint,
  colour: string = CHALK_COLOUR.white,
): void => {
  const { left, top } = toScreen(v, point);
  const disc = (radius: number) => {
    ctx.beginPath();
    ctx.arc(left, top, radius, 0, 2 * Math.PI);
    ctx.fill();
  };
  lay(ctx, EDGE_COLOUR, EDGE_OPACITY, () => disc(8));
  lay(ctx, colour, 1, () => disc(5.5));
};

/** Paints the cross that arrow keys move. */
export const paintCursor = (ctx: Canvas2d, v: Viewport, point: FramePoint): void => {
  const { left, top } = toScreen(v, point);
  const cross = new Path2D(
    `M${left - 16} ${top}h11M${left + 5} ${top}h11M${left} ${top - 16}v11M${left} ${top + 5}v11M${left - 1} ${top}h2`,
  );
  lay(ctx, EDGE_COLOUR, EDGE_OPACITY, () => strokeWith(ctx, cross, 6));
  lay(ctx, CHALK_COLOUR.white, 1, () => strokeWith(ctx, cross, 2.5));
};

/** Paints where the coach points: a ring around the place, which stays to be seen. */
export const paintPointer = (ctx: Canvas2d, v: Viewport, point: FramePoint): void => {
  const { left, top } = toScreen(v, point);
  const ring = new Path2D();
  ring.arc(left, top, POINTER_RADIUS, 0, 2 * Math.PI);
  lay(ctx, EDGE_COLOUR, EDGE_OPACITY, () => strokeWith(ctx, ring, 9));
  lay(ctx, CHALK_COLOUR.clay, 1, () => strokeWith(ctx, ring, 4.5));
};

const strokeWith = (ctx: Canvas2d, path: Path2D, width: number) => {
  ctx.lineWidth = width;
  ctx.stroke(path);
};

const lay = (ctx: Canvas2d, colour: string, opacity: number, paint: () => void) => {
  ctx.globalAlpha = opacity;
  ctx.strokeStyle = colour;
  ctx.fillStyle = colour;
  paint();
};
