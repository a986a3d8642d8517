import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { FramePoint } from '@/lib/domain/marks/mark';

/** A place on the stage in CSS pixels from its top left corner; its fields differ from a FramePoint's on purpose. */
export interface ScreenPoint {
  readonly left: number;
  readonly top: number;
}

/** How the picture lies on the stage. Lengths in CSS pixels; `scale` is CSS pixels per picture pixel. */
export interface Viewport {
  readonly stage: PictureSize;
  readonly picture: PictureSize;
  readonly scale: number;
  /** Where the picture's top left corner lies. */
  readonly left: number;
  readonly top: number;
  /** Device pixels per CSS pixel that the canvases use, 1 to 2. */
  readonly dpr: number;
}

/** How much larger than the fitted picture one may zoom. */
export const MOST_ZOOM = 12;

const fitScale = (stage: PictureSize, picture: PictureSize) =>
  Math.max(1e-6, Math.min(stage.width / picture.width, stage.height / picture.height));

/** The whole picture, as large as the stage lets it be, in the middle. A screen finer than 2 is drawn at 2. */
export const fitViewport = (stage: PictureSize, picture: PictureSize, devicePixelRatio = 1): Viewport =>
  clampPan({
    stage,
    picture,
    scale: fitScale(stage, picture),
    left: 0,
    top: 0,
    dpr: Math.min(2, Math.max(1, devicePixelRatio)),
  });

/** Times the fitted size, 1 to `MOST_ZOOM`. */
export const zoomOf = (v: Viewport): number => v.scale / fitScale(v.stage, v.picture);

/** Where a point of the frame lies on the stage. */
export const toScreen = (v: Viewport, p: FramePoint): ScreenPoint => ({
  left: v.left + p.x * v.picture.width * v.scale,
  top: v.top + p.y * v.picture.height * v.scale,
});

/** Which point of the frame lies under a place of the stage; may lie outside the picture. */
export const toFrame = (v: Viewport, p: ScreenPoint): FramePoint => ({
  x: (p.left - v.left) / (v.picture.width * v.scale),
  y: (p.top - v.top) / (v.picture.height * v.scale),
});

/** Zooms by a factor so that what lies under `about` stays there, as far as the picture still fills the stage. */
export const zoomAbout = (v: Viewport, about: ScreenPoint, factor: number): Viewport => {
  const least = fitScale(v.stage, v.picture);
  const scale = Math.min(least * MOST_ZOOM, Math.max(least, v.scale * factor));
  const grown = scale / v.scale;
  return clampPan({
    ...v,
    scale,
    left: about.left - (about.left - v.left) * grown,
    top: about.top - (about.top - v.top) * grown,
  });
};

/** Shifts the picture by CSS pixels, as far as it still fills the stage. */
export const panBy = (v: Viewport, by: ScreenPoint): Viewport =>
  clampPan({ ...v, left: v.left + by.left, top: v.top + by.top });

/** The same part of the picture on a stage of another size: zoom and what lies in the middle are kept. */
export const resizeViewport = (v: Viewport, stage: PictureSize, devicePixelRatio = v.dpr): Viewport => {
  const middle = toFrame(v, { left: v.stage.width / 2, top: v.stage.height / 2 });
  const fitted = fitViewport(stage, v.picture, devicePixelRatio);
  const zoomed = { ...fitted, scale: fitted.scale * zoomOf(v) };
  const now = toScreen(zoomed, middle);
  return panBy(zoomed, { left: stage.width / 2 - now.left, top: stage.height / 2 - now.top });
};

/** Scrolls just far enough that a point of the frame is on the stage, with some room around it. */
export const bringIntoView = (v: Viewport, p: FramePoint, room = 24): Viewport => {
  const at = toScreen(v, p);
  const missing = (place: number, length: number) =>
    place < room ? room - place : place > length - room ? length - room - place : 0;
  return panBy(v, { left: missing(at.left, v.stage.width), top: missing(at.top, v.stage.height) });
};

const clampPan = (v: Viewport): Viewport => ({
  ...v,
  left: clampSide(v.left, v.stage.width, v.picture.width * v.scale),
  top: clampSide(v.top, v.stage.height, v.picture.height * v.scale),
});

/** Smaller than the stage: in the middle. Larger: no gap at either side. */
const clampSide = (at: number, stage: number, picture: number): number =>
  picture <= stage ? (stage - picture) / 2 : Math.min(0, Math.max(stage - picture, at));
