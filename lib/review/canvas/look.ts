import type { Look } from '@/lib/domain/breakdowns/event';
import type { PictureSize } from '@/lib/domain/marks/geometry';
import { fitViewport, panBy, toFrame, toScreen, zoomAbout, zoomOf, type Viewport } from './viewport';

/** What is looked at, free of the stage's size: the middle in fractions of the rendition, zoom 1 for the whole picture. */
export const lookOf = (viewport: Viewport): Look => {
  const middle = toFrame(viewport, middleOf(viewport.stage));
  return { ...middle, zoom: zoomOf(viewport) };
};

/** The same part of the picture on a stage of any size, as far as a stage may be zoomed and its picture shifted. */
export const viewportOf = (
  look: Look,
  stage: PictureSize,
  picture: PictureSize,
  devicePixelRatio = 1,
): Viewport => {
  const middle = middleOf(stage);
  const zoomed = zoomAbout(fitViewport(stage, picture, devicePixelRatio), middle, look.zoom);
  const at = toScreen(zoomed, look);
  return panBy(zoomed, { left: middle.left - at.left, top: middle.top - at.top });
};

const middleOf = (stage: PictureSize) => ({ left: stage.width / 2, top: stage.height / 2 });
