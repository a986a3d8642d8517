import type { FrameTable } from '@/lib/domain/clips/frame-table';
import { middleOfFrameUs } from '@/lib/review/media/frame-lookup';
import type { FrameSource } from '@/lib/review/media/frame-source';
import { openFrameSource } from '@/lib/review/media/open-frame-source';
import { Player } from '@/lib/review/player/player';
import { readCounter } from '../../support/media/counter';
import { COUNTER_AREA } from './phone-clips';

export interface Task {
  url: string;
  table: FrameTable;
  /** Number burnt into each frame. */
  numbers: number[];
}

export interface Readings {
  framesRead: number;
  /** `from -> read` of each frame that carried another number than it should. */
  wrong: string[];
  /** Milliseconds from the command to the drawn picture, ten steps a second. */
  back: number[];
  forth: number[];
  /** Milliseconds a step when each follows the other at once. */
  burstBack: number[];
}

const STEPS_EACH_WAY = 30;
const JUMPS = 40;
const STEP_EVERY_MS = 100;

/** A drawing surface whose pictures can be read; reading one pixel makes the browser finish the drawing. */
function stage({ width, height }: FrameTable) {
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  const context = canvas.getContext('2d', { willReadFrequently: true, alpha: false });
  if (!context) throw new Error('No canvas.');
  const area = [
    Math.round(width * COUNTER_AREA.x),
    Math.round(height * COUNTER_AREA.y),
    Math.round(width * COUNTER_AREA.width),
    Math.round(height * COUNTER_AREA.height),
  ] as const;
  return {
    draw(picture: CanvasImageSource) {
      context.drawImage(picture, 0, 0, width, height);
      context.getImageData(0, 0, 1, 1);
    },
    number: () => readCounter(context.getImageData(...area)),
  };
}

interface Contender {
  /** Draws the frame; resolves with the time at which it was drawn. */
  go(index: number): Promise<number>;
  number(): number | null;
  close(): void;
}

async function openPlayer({ url, table }: Task, engine: FrameSource['engine']): Promise<Contender> {
  const source = await openFrameSource({ url, table, engine });
  if (source.engine !== engine) throw new Error(`This browser did not open ${url} by ${engine}.`);
  const player = new Player(source, table);
  const surface = stage(table);
  let drawn = -1;
  let drawnAt = 0;
  let tell: (() => void) | null = null;
  player.onPicture((picture, index) => {
    surface.draw(picture);
    drawn = index;
    drawnAt = performance.now();
    tell?.();
  });
  return {
    async go(index) {
      drawn = -1;
      player.goTo(index);
      while (drawn !== index) {
        const { fault } = player.getSnapshot();
        if (fault) throw fault;
        await new Promise<void>((resolve) => {
          tell = resolve;
          const stop = player.subscribe(() => {
            stop();
            resolve();
          });
        });
      }
      return drawnAt;
    },
    number: surface.number,
    close: () => player.dispose(),
  };
}

/** The plainest way with an element: seek into the middle of the frame, draw when the seek has ended. */
async function openPlainVideo({ url, table }: Task): Promise<Contender> {
  const video = document.createElement('video');
  video.muted = true;
  video.preload = 'auto';
  video.src = url;
  await new Promise((resolve, reject) => {
    video.addEventListener('canplaythrough', resolve, { once: true });
    video.addEventListener('error', () => reject(new Error(video.error?.message)), { once: true });
  });
  const surface = stage(table);
  return {
    async go(index) {
      const seeked = new Promise((resolve) => video.addEventListener('seeked', resolve, { once: true }));
      video.currentTime = middleOfFrameUs(table.ptsUs, index) / 1e6;
      await seeked;
      surface.draw(video);
      return performance.now();
    },
    number: surface.number,
    close() {
      video.removeAttribute('src');
      video.load();
    },
  };
}

/** The screen's turn at or after `due`, as a key that is held down gives its steps. */
async function untilMs(due: number): Promise<void> {
  do await new Promise((resolve) => requestAnimationFrame(resolve));
  while (performance.now() < due);
}

/**
 * Reads every frame back forth, back and at random in both engines of the product, and times steps of the player on
 * WebCodecs and of the plain element.
 */
export async function measure(task: Task, kind: FrameSource['engine'] | 'plain'): Promise<Readings> {
  const contender = await (kind === 'plain' ? openPlainVideo(task) : openPlayer(task, kind));
  const readings: Readings = { framesRead: 0, wrong: [], back: [], forth: [], burstBack: [] };
  const last = task.numbers.length - 1;

  const read = (index: number) => {
    readings.framesRead++;
    const number = contender.number();
    if (number !== task.numbers[index]) readings.wrong.push(`${task.numbers[index]} -> ${number}`);
  };
  const walk = async (from: number, step: 1 | -1, everyMs: number, into: number[]) => {
    await contender.go(from);
    // The person looks at the first frame for a moment.
    await untilMs(performance.now() + 300);
    let due = performance.now();
    for (let at = 1; at <= Math.min(STEPS_EACH_WAY, last); at++) {
      if (everyMs > 0) await untilMs(due);
      const index = from + at * step;
      const start = performance.now();
      into.push((await contender.go(index)) - start);
      read(index);
      due = Math.max(performance.now(), start + everyMs);
    }
  };

  try {
    if (kind !== 'plain') {
      for (let index = 0; index <= last; index++) await contender.go(index).then(() => read(index));
      for (let index = last; index >= 0; index--) await contender.go(index).then(() => read(index));
      let jump = 7 % (last + 1);
      for (let many = 0; many < JUMPS; many++) {
        jump = (jump * 29 + 17) % (last + 1);
        await contender.go(jump);
        read(jump);
      }
    }
    if (kind !== 'element') {
      await walk(last, -1, STEP_EVERY_MS, readings.back);
      await walk(0, 1, STEP_EVERY_MS, readings.forth);
      await walk(last, -1, 0, readings.burstBack);
    }
    return readings;
  } finally {
    contender.close();
  }
}

declare global {
  interface Window {
    measure: typeof measure;
  }
}
window.measure = measure;
