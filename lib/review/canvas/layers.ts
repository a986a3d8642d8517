import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { Viewport } from './viewport';

export type LayerName = 'picture' | 'marks' | 'live';
type Paint = (ctx: CanvasRenderingContext2D, viewport: Viewport) => void;

export interface Layers {
  /** Keeps a copy of a picture (a video frame, an element, a bitmap) and shows it; the source may be closed at once. */
  showPicture(source: CanvasImageSource): void;
  /** Sets what is seen of the picture; sizes the canvases to the stage. */
  setViewport(viewport: Viewport): void;
  /** Says that a layer is to be painted again before the next display frame. */
  touch(layer: LayerName): void;
  /** Paints what is due now instead of at the next display frame. */
  flush(): void;
  dispose(): void;
}

/**
 * Three canvases in `stage`, one above the other: the picture, the drawn marks, and the mark in hand, so that a long
 * stroke repaints only itself. `paint` is asked for the two upper layers; the unit is a CSS pixel of the stage.
 */
export const createLayers = (
  stage: HTMLElement,
  picture: PictureSize,
  viewport: Viewport,
  paint: Record<Exclude<LayerName, 'picture'>, Paint>,
): Layers => {
  const make = (name: LayerName) => {
    const canvas = stage.ownerDocument.createElement('canvas');
    canvas.dataset.layer = name;
    // The list of marks says the same in words: the canvases are pictures of it.
    canvas.setAttribute('aria-hidden', 'true');
    Object.assign(canvas.style, {
      position: 'absolute',
      inset: '0',
      width: '100%',
      height: '100%',
      pointerEvents: 'none',
    });
    stage.append(canvas);
    return { canvas, ctx: contextOf(canvas) };
  };
  const layers = { picture: make('picture'), marks: make('marks'), live: make('live') };
  const plate = stage.ownerDocument.createElement('canvas');
  const plateCtx = contextOf(plate);
  let hasPicture = false;
  let view = viewport;
  let request = 0;
  const due = new Set<LayerName>();

  const paintPicture: Paint = (ctx, v) => {
    if (hasPicture)
      ctx.drawImage(plate, v.left, v.top, v.picture.width * v.scale, v.picture.height * v.scale);
  };
  const flush = () => {
    cancelAnimationFrame(request);
    request = 0;
    for (const name of due) {
      const { canvas, ctx } = layers[name];
      ctx.setTransform(1, 0, 0, 1, 0, 0);
      ctx.clearRect(0, 0, canvas.width, canvas.height);
      ctx.setTransform(view.dpr, 0, 0, view.dpr, 0, 0);
      (name === 'picture' ? paintPicture : paint[name])(ctx, view);
    }
    due.clear();
  };
  const touch = (name: LayerName) => {
    due.add(name);
    request ||= requestAnimationFrame(flush);
  };
  const setViewport = (next: Viewport) => {
    view = next;
    const width = Math.max(1, Math.round(next.stage.width * next.dpr));
    const height = Math.max(1, Math.round(next.stage.height * next.dpr));
    for (const name of ['picture', 'marks', 'live'] as const) {
      const { canvas } = layers[name];
      // Setting a canvas's size clears it, even to the same size.
      if (canvas.width !== width) canvas.width = width;
      if (canvas.height !== height) canvas.height = height;
      touch(name);
    }
  };
  setViewport(viewport);

  return {
    showPicture: (source) => {
      if (plate.width !== picture.width) plate.width = picture.width;
      if (plate.height !== picture.height) plate.height = picture.height;
      plateCtx.drawImage(source, 0, 0, picture.width, picture.height);
      hasPicture = true;
      // At once, not at the next display frame: the player counts on a shown frame being seen.
      due.add('picture');
      flush();
    },
    setViewport,
    touch,
    flush,
    dispose: () => {
      cancelAnimationFrame(request);
      for (const { canvas } of Object.values(layers)) {
        canvas.remove();
        // Safari keeps a removed canvas's memory until it is collected; a canvas without area gives it back now.
        canvas.width = canvas.height = 0;
      }
      plate.width = plate.height = 0;
    },
  };
};

const contextOf = (canvas: HTMLCanvasElement): CanvasRenderingContext2D => {
  const ctx = canvas.getContext('2d');
  if (!ctx) throw new Error('This browser gives no 2d canvas.');
  return ctx;
};
