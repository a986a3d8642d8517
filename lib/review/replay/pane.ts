import type { Look, Scene } from '@/lib/domain/breakdowns/event';
import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { FramePoint } from '@/lib/domain/marks/mark';
import { createLayers } from '../canvas/layers';
import { viewportOf } from '../canvas/look';
import { paintMark, paintPointer } from '../canvas/render-mark';
import {
  panBy,
  resizeViewport,
  zoomAbout,
  zoomOf,
  type ScreenPoint,
  type Viewport,
} from '../canvas/viewport';
import { marksOnFrame } from '../marks/scene';
import type { FrameFeed } from './frame-feed';

/** What one pane shows of a scene. */
export interface PaneScene extends Pick<Scene, 'marks' | 'isChalkShown' | 'pointer' | 'look'> {
  frame: number;
}

/** One clip on the stage: the picture, the marks of the frame that is really drawn, and the pointer. */
export interface Pane {
  readonly clipId: string;
  readonly feed: FrameFeed;
  /** The frame whose picture is drawn; null before the first. */
  shownFrame(): number | null;
  wantedFrame(): number;
  zoom(): number;
  show(scene: PaneScene, isPlaying: boolean): void;
  /** Another frame than the coach's, with the same marks laid where they belong. */
  showFrame(frame: number): void;
  zoomBy(factor: number, about?: ScreenPoint): void;
  panBy(by: ScreenPoint): void;
  /** Looks where the scene looks again. */
  letGo(): void;
  /** Takes the size of its root again. */
  resize(): void;
  /** Paints what is due now. */
  flush(): void;
  dispose(): void;
}

const sizeOf = (element: HTMLElement): PictureSize => ({
  width: Math.max(1, element.clientWidth),
  height: Math.max(1, element.clientHeight),
});

/** Makes a pane in `root`, which stays the caller's. `openFeed` is called once, with what to do with each picture. */
export const createPane = (options: {
  root: HTMLElement;
  clipId: string;
  first: PaneScene;
  openFeed: (frame: number, given: (picture: CanvasImageSource, frame: number) => void) => FrameFeed;
  pictureSize: PictureSize;
  onShown: (frame: number) => void;
}): Pane => {
  const { root, clipId, first, openFeed, pictureSize, onShown } = options;
  const dpr = () => root.ownerDocument.defaultView?.devicePixelRatio ?? 1;
  const size: PictureSize = { width: pictureSize.width, height: pictureSize.height };
  let scene = first;
  let shown: number | null = null;
  let wanted = first.frame;
  let isByHand = false;
  let viewport: Viewport = viewportOf(first.look, sizeOf(root), size, dpr());
  let pointer: FramePoint | null = first.pointer;

  const layers = createLayers(root, size, viewport, {
    marks: (ctx, view) => {
      if (shown === null || !scene.isChalkShown) return;
      for (const mark of marksOnFrame(scene.marks, clipId, shown)) paintMark(ctx, mark, view);
    },
    live: (ctx, view) => {
      if (pointer && !isByHand) paintPointer(ctx, view, pointer);
    },
  });
  const look = (next: Viewport) => {
    viewport = next;
    layers.setViewport(next);
  };
  const coachs = (at: Look) => viewportOf(at, sizeOf(root), size, dpr());
  const feed = openFeed(first.frame, (picture, frame) => {
    shown = frame;
    // Before the picture, which paints what is due: a picture is never seen with the marks of another.
    layers.touch('marks');
    layers.showPicture(picture);
    onShown(frame);
  });
  layers.touch('live');

  return {
    clipId,
    feed,
    shownFrame: () => shown,
    wantedFrame: () => wanted,
    zoom: () => zoomOf(viewport),
    show: (next, isPlaying) => {
      const before = scene;
      scene = next;
      if (next.marks !== before.marks || next.isChalkShown !== before.isChalkShown) layers.touch('marks');
      if (next.pointer !== pointer) layers.touch('live');
      pointer = next.pointer;
      if (next.look !== before.look && !isByHand) look(coachs(next.look));
      if (!isByHand) feed.want((wanted = next.frame), isPlaying);
    },
    showFrame: (frame) => {
      isByHand = true;
      wanted = frame;
      layers.touch('live');
      feed.want(frame, false);
    },
    zoomBy: (factor, about) => {
      isByHand = true;
      const { width, height } = viewport.stage;
      look(zoomAbout(viewport, about ?? { left: width / 2, top: height / 2 }, factor));
    },
    panBy: (by) => {
      isByHand = true;
      look(panBy(viewport, by));
    },
    letGo: () => {
      isByHand = false;
      look(coachs(scene.look));
    },
    resize: () => look(isByHand ? resizeViewport(viewport, sizeOf(root), dpr()) : coachs(scene.look)),
    flush: layers.flush,
    dispose: () => {
      feed.dispose();
      layers.dispose();
    },
  };
};
