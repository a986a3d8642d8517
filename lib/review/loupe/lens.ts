import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { FramePoint } from '@/lib/domain/marks/mark';
import { CHALK_COLOUR, EDGE_COLOUR } from '../canvas/shape';

/** Side of the lens in CSS pixels, and how many of them one pixel of the rendition takes. */
export const LENS_SIZE = 192;
export const LENS_SCALE = 6;

/** Paints the pixels around a point, unsmoothed, with a cross that leaves the point itself free. */
export const paintLens = (
  canvas: HTMLCanvasElement,
  frame: CanvasImageSource,
  picture: PictureSize,
  aim: FramePoint,
  dpr: number,
): void => {
  const side = Math.round(LENS_SIZE * dpr);
  if (canvas.width !== side) canvas.width = canvas.height = side;
  const ctx = canvas.getContext('2d');
  if (!ctx) throw new Error('This browser gives no 2d canvas.');
  ctx.setTransform(dpr, 0, 0, dpr, 0, 0);
  ctx.fillStyle = EDGE_COLOUR;
  ctx.fillRect(0, 0, LENS_SIZE, LENS_SIZE);
  ctx.imageSmoothingEnabled = false;
  const half = LENS_SIZE / 2;
  ctx.drawImage(
    frame,
    half - aim.x * picture.width * LENS_SCALE,
    half - aim.y * picture.height * LENS_SCALE,
    picture.width * LENS_SCALE,
    picture.height * LENS_SCALE,
  );
  const cross = new Path2D(
    `M${half} 0V${half - 9}M${half} ${half + 9}V${LENS_SIZE}M0 ${half}H${half - 9}M${half + 9} ${half}H${LENS_SIZE}` +
      `M${half - 2} ${half}H${half + 2}M${half} ${half - 2}V${half + 2}`,
  );
  ctx.strokeStyle = EDGE_COLOUR;
  ctx.lineWidth = 3;
  ctx.stroke(cross);
  ctx.strokeStyle = CHALK_COLOUR.white;
  ctx.lineWidth = 1;
  ctx.stroke(cross);
};
