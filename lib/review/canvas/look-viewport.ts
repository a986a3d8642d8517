import type { Look } from '@/lib/domain/breakdowns/event';
import type { PictureSize } from '@/lib/domain/marks/geometry';
import { fitViewport, panBy, toFrame, toScreen, type Viewport, zoomAbout, zoomOf } from './viewport';

/** The whole picture in the middle. */
export const WHOLE: Look = { x: 0.5, y: 0.5, zoom: 1 };

/**
 * How a picture lies on a stage (CSS pixels) so that the look's point is in its middle, as far as the picture still
 * fills the stage. The stage may have other proportions than the one the look was taken on.
 */
export const viewportOfLook = (
  look: Look,
  stage: PictureSize,
  picture: PictureSize,
  devicePixelRatio = 1,
): Viewport => {
  const fitted = fitViewport(stage, picture, devicePixelRatio);
  const middle = { left: stage.width / 2, top: stage.height / 2 };
  const zoomed = zoomAbout(fitted, middle, look.zoom);
  const at = toScreen(zoomed, look);
  return panBy(zoomed, { left: middle.left - at.left, top: middle.top - at.top });
};

/** What is looked at through a viewport: the other way round of `viewportOfLook`. */
export const lookOfViewport = (v: Viewport): Look => {
  const middle = toFrame(v, { left: v.stage.width / 2, top: v.stage.height / 2 });
  return { x: middle.x, y: middle.y, zoom: zoomOf(v) };
};
