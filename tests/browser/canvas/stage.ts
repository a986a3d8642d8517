import { cdp, page } from 'vitest/browser';
import type { Mark } from '@/lib/domain/marks/mark';
import { createChalkboard } from '@/lib/review/input/chalkboard';

export const PICTURE = { width: 1280, height: 720 };
/** The stage shows the picture at half its size, so that the two spaces cannot be mixed up unseen. */
export const STAGE = { width: 640, height: 360 };
export const CLIP = '018f5e2a-0000-7000-8000-00000000c11b';

/** A grass-green picture to draw on. */
const grass = () => {
  const canvas = document.createElement('canvas');
  Object.assign(canvas, PICTURE);
  const ctx = canvas.getContext('2d')!;
  ctx.fillStyle = '#4f7a3f';
  ctx.fillRect(0, 0, PICTURE.width, PICTURE.height);
  return canvas;
};

/** A chalkboard on a real stage at the top left of the page, with everything it told. */
export const openStage = async (marks: Mark[] = []) => {
  await page.viewport(800, 600);
  document.body.style.margin = '0';
  const stage = document.createElement('div');
  stage.tabIndex = 0;
  stage.setAttribute('role', 'application');
  stage.setAttribute('aria-label', 'Picture and marks');
  Object.assign(stage.style, { position: 'absolute', left: '0', top: '0', width: '640px', height: '360px' });
  document.body.replaceChildren(stage);
  const told: { marks: readonly Mark[]; calls: number; goneTo: [string, number][] } = {
    marks,
    calls: 0,
    goneTo: [],
  };
  const board = createChalkboard({
    stage,
    picture: PICTURE,
    clipId: CLIP,
    marks,
    newId: () => crypto.randomUUID(),
    onMarks: (next) => {
      told.marks = next;
      told.calls += 1;
    },
    onGoTo: (clipId, frame) => told.goneTo.push([clipId, frame]),
  });
  board.showPicture(grass(), 138);
  const layer = (name: 'picture' | 'marks' | 'live') =>
    stage.querySelector<HTMLCanvasElement>(`[data-layer=${name}]`)!;
  return { stage, board, told, layer, grass };
};

/** The colour of a layer at a place of the stage, as [red, green, blue, alpha]. */
export const colourAt = (canvas: HTMLCanvasElement, left: number, top: number): number[] => {
  const fine = canvas.width / STAGE.width;
  return [
    ...canvas.getContext('2d')!.getImageData(Math.round(left * fine), Math.round(top * fine), 1, 1).data,
  ];
};

/** The next display frame, when due layers are painted. */
export const nextFrame = () =>
  new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));

type Place = readonly [left: number, top: number];

/** Real input, given to the browser below the page (Chrome DevTools Protocol, Input domain). */
export const input = () => {
  // The page under test lies in a frame of the runner's page, scaled at times: the places are measured, not assumed.
  const send = (method: string, params: object) =>
    (cdp() as unknown as { send(m: string, p: object): Promise<void> }).send(method, params);
  const outside = ([left, top]: Place) => {
    const frame = window.frameElement?.getBoundingClientRect();
    const scale = frame ? frame.width / window.innerWidth : 1;
    return { x: (frame?.left ?? 0) + left * scale, y: (frame?.top ?? 0) + top * scale };
  };
  const mouse = (type: string, place: Place, rest: object = {}) =>
    send('Input.dispatchMouseEvent', {
      type,
      ...outside(place),
      button: 'left',
      buttons: 1,
      clickCount: 1,
      ...rest,
    });
  const touch = (type: string, places: readonly Place[]) =>
    send('Input.dispatchTouchEvent', {
      type,
      touchPoints: places.map((p, id) => ({ ...outside(p), id, radiusX: 10, radiusY: 10 })),
    });

  const steps = (from: Place, to: Place) =>
    [1, 2, 3, 4].map((i): Place => [
      from[0] + ((to[0] - from[0]) * i) / 4,
      from[1] + ((to[1] - from[1]) * i) / 4,
    ]);
  const dragMouse = async (from: Place, to: Place, rest: object = {}) => {
    await mouse('mouseMoved', from, { button: 'none', buttons: 0, ...rest });
    await mouse('mousePressed', from, rest);
    for (const place of steps(from, to)) await mouse('mouseMoved', place, rest);
    await mouse('mouseReleased', to, { ...rest, buttons: 0 });
  };
  return {
    drag: {
      mouse: (from: Place, to: Place) => dragMouse(from, to),
      pen: (from: Place, to: Place) => dragMouse(from, to, { pointerType: 'pen', force: 0.5 }),
      touch: async (from: Place, to: Place) => {
        await touch('touchStart', [from]);
        for (const place of steps(from, to)) await touch('touchMove', [place]);
        await touch('touchEnd', []);
      },
    },
    tap: async (place: Place) => {
      await mouse('mousePressed', place);
      await mouse('mouseReleased', place, { buttons: 0 });
    },
    mouse,
    touch,
  };
};
