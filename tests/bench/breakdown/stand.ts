import type { Mark } from '@/lib/domain/marks/mark';
import { createChalkboard } from '@/lib/review/input/chalkboard';
import type { Chalkboard } from '@/lib/review/input/chalkboard-state';
import { openFrameSource } from '@/lib/review/media/open-frame-source';
import { Player } from '@/lib/review/player/player';
import { createEventTap, type EventTap } from '@/lib/review/record/events';
import type { Task } from '../frames/measure';

export const CLIP = '0197a000-0000-7000-8000-00000000c11b';

/** Chalk words in the smallest letters there are, on every frame. */
export const WORDS = {
  version: 1,
  id: '0197a000-0000-7000-8000-00000000a001',
  clipId: CLIP,
  frame: 0,
  span: 600,
  chalk: 'white',
  itemId: null,
  hidden: false,
  kind: 'text',
  points: [{ x: 0.5, y: 0.42 }],
  text: '47',
} as const satisfies Mark;

/** A bench without its buttons: a clip on a stage of the size of its pictures, chalk over it, a tap on both. */
export interface Stand {
  readonly stage: HTMLElement;
  readonly player: Player;
  readonly board: Chalkboard;
  readonly tap: EventTap;
}

/** Opens the clip on a stage of its own; resolves when its first picture is drawn. */
export const openStand = async (task: Task): Promise<Stand> => {
  const { width, height } = task.table;
  document.body.style.margin = '0';
  const stage = document.createElement('div');
  Object.assign(stage.style, {
    position: 'absolute',
    inset: '0',
    width: `${width}px`,
    height: `${height}px`,
  });
  document.body.replaceChildren(stage);
  const marks: Mark[] = [{ ...WORDS, points: [WORDS.points[0]] }];
  const board = createChalkboard({
    stage,
    picture: { width, height },
    clipId: CLIP,
    marks,
    newId: () => crypto.randomUUID(),
    onMarks: () => undefined,
    onGoTo: () => undefined,
  });
  const player = new Player(await openFrameSource({ url: task.url, table: task.table }), task.table);
  await new Promise<void>((resolve) => {
    player.onPicture((picture, index) => {
      board.showPicture(picture, index);
      resolve();
    });
  });
  await new Promise((resolve) => requestAnimationFrame(resolve));
  const tap = createEventTap();
  tap.watch({ clipId: CLIP, player, board, stage });
  return { stage, player, board, tap };
};

/** Resolves once so many milliseconds are over. */
export const held = (ms: number): Promise<void> =>
  new Promise((resolve) => {
    const began = performance.now();
    const timer = setInterval(() => {
      if (performance.now() - began < ms) return;
      clearInterval(timer);
      resolve();
    }, 4);
  });

/** What a coach does in the course of a minute, over and over: looks, steps, plays slowly, zooms, points, draws. */
export const runScript = async (stand: Stand, lengthMs: number, isWanted = () => true): Promise<void> => {
  const { stage, player, board } = stand;
  const box = stage.getBoundingClientRect();
  const pointer = (type: string, x: number, y: number) =>
    stage.dispatchEvent(
      new PointerEvent(type, {
        ...{ pointerId: 3, pointerType: 'mouse', button: 0, buttons: type === 'pointermove' ? 1 : 0 },
        ...{ clientX: box.left + x * box.width, clientY: box.top + y * box.height, bubbles: true },
      }),
    );
  const round = (part: number, n: number) =>
    [0.5 + 0.15 * Math.cos((part * n) / 10), 0.6 + 0.1 * Math.sin((part * n) / 10)] as const;
  const last = player.source.frameCount - 1;
  const acts: Record<number, () => void> = {
    0: () => player.goTo(Math.round(last * 0.2)),
    40: () => board.run('tool-freehand'),
    45: () => pointer('pointerdown', ...round(0, 1)),
    85: () => pointer('pointerup', ...round(40, 1)),
    90: () => board.run('tool-select'),
    100: () => player.setSpeed(0.25),
    101: () => player.play(),
    160: () => player.pause(),
    170: () => board.run('zoom-in'),
    180: () => board.run('zoom-in'),
    230: () => board.run('zoom-fit'),
    240: () => player.goTo(Math.round(last * 0.6)),
    245: () => board.run('tool-line'),
    250: () => pointer('pointerdown', 0.4, 0.6),
    265: () => pointer('pointerup', 0.6, 0.75),
    270: () => board.run('tool-select'),
    280: () => player.setSpeed(1),
    281: () => player.play(),
    295: () => player.pause(),
  };
  const began = performance.now();
  // Ticks of fifty milliseconds; the script lasts fifteen seconds and begins again.
  for (let tick = 0; tick * 50 < lengthMs && isWanted(); tick += 1) {
    const at = tick % 300;
    acts[at]?.();
    if (at > 45 && at < 85) pointer('pointermove', ...round(at - 45, 1));
    else if (at > 250 && at < 265) pointer('pointermove', 0.4 + (at - 250) * 0.013, 0.6 + (at - 250) * 0.01);
    else if (at > 5 && at < 35) pointer('pointermove', ...round(at, 2));
    else if (at > 110 && at < 150 && at % 10 === 0) player.pause();
    else if (at > 110 && at < 155 && at % 10 === 5) player.play();
    else if (at > 185 && at < 225 && at % 5 === 0) player.step(1);
    const wait = began + (tick + 1) * 50 - performance.now();
    if (wait > 0) await held(wait);
  }
  player.pause();
};
