import { indexTimeline, sceneAt } from '@/lib/domain/breakdowns/scene';
import type { Timeline } from '@/lib/domain/breakdowns/timeline';
import { openFrameSource } from '@/lib/review/media/open-frame-source';
import { Player } from '@/lib/review/player/player';
import { createReplay } from '@/lib/review/replay/replay';
import { readCounter } from '../../support/media/counter';
import type { Task } from '../frames/measure';
import { COUNTER_AREA } from '../frames/phone-clips';

export interface ReplayReadings {
  /** Milliseconds from the command to the right picture, for each seek. */
  seeks: number[];
  /** Pictures read back, and those that showed another frame than the timeline has there. */
  read: number;
  wrong: string[];
}

/** A picture may be on the screen this much before or after its moment while it plays: a few display frames. */
const SLACK_MS = 120;

/** Seeks at random places and plays, reading the number that is burnt into what is drawn. */
export const checkReplay = async (
  given: { timeline: Timeline; voice: Blob | null },
  task: Task,
  plan: { seeks: number; playMs: number },
): Promise<ReplayReadings> => {
  const { timeline } = given;
  const { width, height } = task.table;
  const stage = document.createElement('div');
  Object.assign(stage.style, {
    position: 'absolute',
    inset: '0',
    width: `${width}px`,
    height: `${height}px`,
  });
  document.body.replaceChildren(stage);
  const player = new Player(await openFrameSource({ url: task.url, table: task.table }), task.table);
  const address = given.voice ? URL.createObjectURL(given.voice) : null;
  const voice = address ? new Audio(address) : null;
  const replay = createReplay({ timeline, stage, voice, players: () => player });
  const index = indexTimeline(timeline);
  const readings: ReplayReadings = { seeks: [], read: 0, wrong: [] };
  const copy = document.createElement('canvas');
  copy.width = width;
  copy.height = height;
  const ctx = copy.getContext('2d', { willReadFrequently: true });
  if (!ctx) throw new Error('No canvas.');

  const read = (wanted: ReadonlySet<number | undefined>, where: string) => {
    const picture = stage.querySelector<HTMLCanvasElement>('canvas[data-layer=picture]');
    if (!picture) return;
    ctx.drawImage(picture, 0, 0, width, height);
    const number = readCounter(ctx.getImageData(0, 0, width, height), COUNTER_AREA);
    readings.read += 1;
    if (!wanted.has(number ?? -1))
      readings.wrong.push(`${where}: ${number}, not ${[...wanted].join(' or ')}`);
  };
  const isThere = (frame: number) => replay.getSnapshot().shown?.frame === frame;
  const until = (wanted: () => boolean) =>
    new Promise<void>((resolve, reject) => {
      const began = performance.now();
      const look = () => {
        if (wanted()) return resolve();
        if (performance.now() - began > 5000)
          return reject(new Error(`It never came: ${JSON.stringify(replay.getSnapshot().shown)}`));
        requestAnimationFrame(look);
      };
      // Asked after every change of the replay and at every display frame: the first that shows it counts.
      const stop = replay.subscribe(() => {
        if (!wanted()) return;
        stop();
        resolve();
      });
      look();
    });

  await until(() => replay.getSnapshot().shown !== null);
  let state = 40_503;
  for (let n = 0; n < plan.seeks; n += 1) {
    state = (state * 48_271) % 2_147_483_647;
    const ms = state % timeline.durationMs;
    const scene = sceneAt(index, ms);
    const began = performance.now();
    replay.seek(ms);
    await until(() => replay.getSnapshot().ms === ms && isThere(scene.frame));
    readings.seeks.push(performance.now() - began);
    if (scene.look.zoom === 1) read(new Set([task.numbers[scene.frame]]), `seek to ${ms}`);
  }
  replay.seek(0);
  await until(() => isThere(sceneAt(index, 0).frame));
  replay.play();
  const began = performance.now();
  while (performance.now() - began < plan.playMs) {
    await new Promise((resolve) => requestAnimationFrame(resolve));
    const ms = voice ? voice.currentTime * 1000 : replay.getSnapshot().ms;
    const scene = sceneAt(index, ms);
    if (scene.look.zoom !== 1) continue;
    const frames = index.events
      .filter((event) => event.t > ms - SLACK_MS && event.t <= ms + SLACK_MS)
      .flatMap((event) => (event.kind === 'frame' ? [event.frame] : []));
    const wanted = [sceneAt(index, Math.max(0, ms - SLACK_MS)).frame, scene.frame, ...frames];
    read(new Set(wanted.map((frame) => task.numbers[frame])), `play at ${Math.round(ms)}`);
  }
  replay.dispose();
  player.dispose();
  if (address) URL.revokeObjectURL(address);
  return readings;
};
