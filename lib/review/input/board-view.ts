import type { Look } from '@/lib/domain/breakdowns/event';
import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { FramePoint } from '@/lib/domain/marks/mark';
import { lookOf } from '../canvas/look';
import { fitViewport, resizeViewport, toFrame, type Viewport } from '../canvas/viewport';

/** What of the picture is seen on a stage, kept right when the stage changes its size. */
export interface BoardView {
  readonly viewport: Viewport;
  set(next: Viewport): void;
  /** The middle of what is seen, as fractions of the rendition, and times the fitted size. */
  look(): Look;
  /** The point of the frame under a place of the window (client coordinates); may lie outside the picture. */
  pointAt(clientX: number, clientY: number): FramePoint;
  dispose(): void;
}

/** Starts with the whole picture; `onChange` hears every pan, zoom and new size. */
export const createBoardView = (
  stage: HTMLElement,
  picture: PictureSize,
  onChange: (viewport: Viewport) => void,
): BoardView => {
  const stageSize = () => ({
    width: Math.max(1, stage.clientWidth),
    height: Math.max(1, stage.clientHeight),
  });
  let viewport = fitViewport(stageSize(), picture, window.devicePixelRatio);
  const set = (next: Viewport) => {
    viewport = next;
    onChange(next);
  };
  const resized = new ResizeObserver(() =>
    set(resizeViewport(viewport, stageSize(), Math.min(2, Math.max(1, window.devicePixelRatio)))),
  );
  resized.observe(stage);
  return {
    get viewport() {
      return viewport;
    },
    set,
    look: () => lookOf(viewport),
    pointAt: (clientX, clientY) => {
      const box = stage.getBoundingClientRect();
      return toFrame(viewport, { left: clientX - box.left, top: clientY - box.top });
    },
    dispose: () => resized.disconnect(),
  };
};
