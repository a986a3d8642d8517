import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { FramePoint } from '@/lib/domain/marks/mark';
import { toFrame, toScreen, type ScreenPoint, type Viewport } from '../canvas/viewport';
import { createGestures } from '../input/gestures';
import { listenToPointers } from '../input/pointer';
import { SnapshotStore } from '../player/snapshot-store';
import { COARSE_STEP, dragged, FINE_STEP, nudged, onPicture, pointNear, REACH, sayAim } from './aim';
import { paintLens } from './lens';

/** A point that may be taken up again, under the name its owner knows it by. */
export interface Placed {
  readonly name: string;
  readonly point: FramePoint;
}

export interface LoupeSnapshot {
  /** Where the point would be set now; null until a hand or a key has come. */
  readonly aim: FramePoint | null;
  /** A press holds it: it is about to be set. */
  readonly isHeld: boolean;
  /** The side of the stage on which the lens does not cover the point. */
  readonly side: 'left' | 'right';
  /** For a polite live region; `turn` grows with every sentence. */
  readonly announcement: { readonly text: string; readonly turn: number };
}

export interface LoupeOptions {
  /** Lies over the stage, has its size, takes the focus; it is listened to. */
  surface: HTMLElement;
  /** Shows the magnified pixels. */
  lens: HTMLCanvasElement;
  picture: PictureSize;
  getViewport: () => Viewport;
  /** The point was set: a press was let go, or Enter. `name` is the point that was taken up, null for the one asked for. */
  onSet: (point: FramePoint, name: string | null) => void;
  /** The point moves and is not set yet; null: it was let go without being set. */
  onMove: (point: FramePoint | null, name: string | null) => void;
  panBy: (by: ScreenPoint) => void;
  zoomAbout: (about: ScreenPoint, factor: number) => void;
}

export interface Loupe {
  getSnapshot(): LoupeSnapshot;
  subscribe(listener: () => void): () => void;
  /** Keeps a copy of the frame on the stage. */
  showPicture(source: CanvasImageSource): void;
  /** Says which points there are, and the one that is asked for now: its place when it has one, and where keys begin. */
  ask(placed: readonly Placed[], asked: Placed | null, start: FramePoint): void;
  dispose(): void;
}

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** One point at a time, set to a quarter of a pixel by mouse, finger, pen or arrow keys over the stage. */
export const createLoupe = (options: LoupeOptions): Loupe => {
  const { surface, lens, picture, getViewport } = options;
  const frame = surface.ownerDocument.createElement('canvas');
  const store = new SnapshotStore<LoupeSnapshot>({
    aim: null,
    isHeld: false,
    side: 'left',
    announcement: { text: '', turn: 0 },
  });
  const state = store.getSnapshot;
  let placed: readonly Placed[] = [];
  let asked: Placed | null = null;
  let start: FramePoint = { x: 0.5, y: 0.5 };
  let taken: string | null = null;
  let lastPlace: ScreenPoint | null = null;
  let request = 0;

  const repaint = () => {
    request ||= requestAnimationFrame(() => {
      request = 0;
      const { aim } = state();
      if (aim && frame.width > 0)
        paintLens(lens, frame, picture, aim, Math.min(2, Math.max(1, window.devicePixelRatio)));
    });
  };
  const aimAt = (aim: FramePoint | null) => {
    if (!aim) return store.set({ aim, isHeld: false });
    const at = toScreen(getViewport(), aim);
    store.set({ aim, side: at.left < getViewport().stage.width / 2 ? 'right' : 'left' });
    repaint();
  };
  const announce = (text: string) =>
    store.set({ announcement: { text, turn: state().announcement.turn + 1 } });
  const set = (aim: FramePoint) => {
    announce(`Set at ${sayAim(aim, picture)}.`);
    options.onSet(aim, taken);
    taken = null;
  };

  const gestures = createGestures({
    press: (place, kind) => {
      surface.focus({ preventScroll: true });
      lastPlace = place;
      const points = placed.map((one) => one.point);
      const near = placed[pointNear(points, place, getViewport(), REACH[kind]) ?? -1];
      taken = near?.name ?? null;
      aimAt(near?.point ?? onPicture(toFrame(getViewport(), place)));
      store.set({ isHeld: true });
      options.onMove(state().aim, taken);
    },
    drag: (places) => {
      const place = places.at(-1);
      const { aim } = state();
      if (!place || !lastPlace || !aim) return;
      const by = { left: place.left - lastPlace.left, top: place.top - lastPlace.top };
      lastPlace = place;
      aimAt(dragged(aim, by, getViewport()));
      options.onMove(state().aim, taken);
    },
    lift: () => {
      const { aim } = state();
      store.set({ isHeld: false });
      if (aim) set(aim);
    },
    bail: () => {
      taken = null;
      aimAt(null);
      options.onMove(null, null);
    },
    hover: (place) => aimAt(onPicture(toFrame(getViewport(), place))),
    panBy: options.panBy,
    zoomAbout: options.zoomAbout,
    penSeen: () => announce('Pen seen: fingers now move the picture and only the pen sets points.'),
  });
  const stopPointers = listenToPointers(surface, gestures, options.zoomAbout);

  const stop = new AbortController();
  surface.addEventListener(
    'keydown',
    (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const way = ARROWS[event.key];
      const from = state().aim ?? asked?.point ?? start;
      if (way) {
        const step = event.shiftKey ? COARSE_STEP : FINE_STEP;
        const to = nudged(
          asked && !state().isHeld ? asked.point : from,
          way[0] * step,
          way[1] * step,
          picture,
        );
        aimAt(to);
        // A point that is there already moves at once; a new one waits for Enter.
        if (asked) {
          asked = { ...asked, point: to };
          options.onSet(to, asked.name);
        } else options.onMove(to, null);
        announce(sayAim(to, picture));
      } else if (event.key === 'Enter') {
        aimAt(from);
        set(from);
      } else if (event.key === 'Escape' && state().aim) {
        taken = null;
        aimAt(null);
        options.onMove(null, null);
        announce('Let go.');
      } else return;
      event.preventDefault();
      event.stopPropagation();
    },
    { signal: stop.signal },
  );
  surface.addEventListener('pointerleave', () => state().isHeld || aimAt(null), { signal: stop.signal });

  return {
    getSnapshot: store.getSnapshot,
    subscribe: store.subscribe,
    showPicture: (source) => {
      if (frame.width !== picture.width) frame.width = picture.width;
      if (frame.height !== picture.height) frame.height = picture.height;
      frame.getContext('2d')?.drawImage(source, 0, 0, picture.width, picture.height);
      repaint();
    },
    ask: (nextPlaced, nextAsked, nextStart) => {
      placed = nextPlaced;
      asked = nextAsked;
      start = nextStart;
    },
    dispose: () => {
      stop.abort();
      stopPointers();
      cancelAnimationFrame(request);
      store.clear();
      frame.width = frame.height = 0;
    },
  };
};
