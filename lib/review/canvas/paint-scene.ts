import type { Look, Scene } from '@/lib/domain/breakdowns/event';
import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { Mark } from '@/lib/domain/marks/mark';
import { isOnFrame } from '../marks/scene';
import { viewportOf } from './look';
import { paintMark, paintPointer } from './render-mark';
import type { Viewport } from './viewport';

/** The colour behind a picture. */
const NIGHT = '#12181A';

/** A frame to paint. `width` and `height` are the rendition's, whatever the image's own size. */
export interface ScenePicture extends PictureSize {
  readonly image: CanvasImageSource;
}

/** Where to paint: size in CSS pixels, and how many canvas pixels one of them is. */
export interface SceneStage extends PictureSize {
  readonly dpr: number;
}

export interface ScenePictures {
  readonly main: ScenePicture | null;
  readonly beside: ScenePicture | null;
}

/** The look instead of the scene's own, when somebody looks around by hand. */
export interface SceneOptions {
  readonly look?: Look;
  /** Without marks and pointer, for a viewer who hides the chalk. */
  readonly isBare?: boolean;
}

/**
 * Paints one moment of a breakdown over the whole canvas: the picture by the scene's look, a second clip beside it or
 * laid over it, the marks of the shown frames and the pointer. Pictures must be those of the scene's frames. What is
 * not there yet stays dark. The canvas must be `stage` times `dpr` pixels large.
 */
export const paintScene = (
  ctx: CanvasRenderingContext2D,
  scene: Scene,
  stage: SceneStage,
  pictures: ScenePictures,
  options: SceneOptions = {},
): void => {
  ctx.save();
  ctx.setTransform(stage.dpr, 0, 0, stage.dpr, 0, 0);
  ctx.globalAlpha = 1;
  ctx.fillStyle = NIGHT;
  ctx.fillRect(0, 0, stage.width, stage.height);
  for (const part of partsOf(scene, stage, pictures, options.look ?? scene.look)) {
    ctx.save();
    ctx.beginPath();
    ctx.rect(part.left, 0, part.view.stage.width, stage.height);
    ctx.clip();
    ctx.translate(part.left, 0);
    paintPart(ctx, scene, part, options);
    ctx.restore();
  }
  ctx.restore();
};

interface ScenePart {
  readonly clipId: string;
  readonly frame: number;
  readonly picture: ScenePicture;
  readonly view: Viewport;
  readonly left: number;
  readonly opacity: number;
  readonly isMain: boolean;
}

/** Which pictures are seen where: one, two halves, or one over the other. In painting order. */
export const partsOf = (
  scene: Scene,
  stage: SceneStage,
  { main, beside }: ScenePictures,
  look: Look = scene.look,
): ScenePart[] => {
  const isHalved = scene.beside !== null && scene.beside.opacity === 0;
  const room = { width: isHalved ? stage.width / 2 : stage.width, height: stage.height };
  const view = (picture: ScenePicture) => viewportOf(look, room, picture, stage.dpr);
  const parts: ScenePart[] = [];
  if (main)
    parts.push({
      clipId: scene.clipId,
      frame: scene.frame,
      picture: main,
      view: view(main),
      left: 0,
      opacity: 1,
      isMain: true,
    });
  if (beside && scene.beside)
    parts.push({
      clipId: scene.beside.clipId,
      frame: scene.beside.frame,
      picture: beside,
      view: view(beside),
      left: isHalved ? room.width : 0,
      opacity: isHalved ? 1 : scene.beside.opacity,
      isMain: false,
    });
  return parts;
};

const paintPart = (
  ctx: CanvasRenderingContext2D,
  scene: Scene,
  { clipId, frame, picture, view, opacity, isMain }: ScenePart,
  { isBare = false }: SceneOptions,
) => {
  ctx.globalAlpha = opacity;
  ctx.drawImage(picture.image, view.left, view.top, picture.width * view.scale, picture.height * view.scale);
  ctx.globalAlpha = 1;
  if (isBare) return;
  if (scene.isChalkShown)
    for (const mark of marksSeen(scene.marks, clipId, frame)) paintMark(ctx, mark, view);
  if (isMain && scene.pointer) paintPointer(ctx, view, scene.pointer);
};

/** The marks of a frame that are not hidden, in drawing order. */
export const marksSeen = (marks: readonly Mark[], clipId: string, frame: number): Mark[] =>
  marks.filter((mark) => !mark.hidden && isOnFrame(mark, clipId, frame));
