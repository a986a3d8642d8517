import { afterEach, describe, expect, test, vi } from 'vitest';
import type { FrameSource } from '@/lib/review/media/frame-source';
import { openFrameSource } from '@/lib/review/media/open-frame-source';
import { Player } from '@/lib/review/player/player';
import type { ClipName } from './clip-recipes';
import { countedClip, numberIn } from './counted-clip';
import { handClock } from './hand-clock';

const players: Player[] = [];
afterEach(() => {
  for (const player of players.splice(0)) player.dispose();
});

interface Drawn {
  index: number;
  number: number | null;
}

async function playing(name: ClipName, engine?: FrameSource['engine'], rates: { captureRate?: number } = {}) {
  const clip = await countedClip(name);
  const table = { ...clip.table, captureRate: rates.captureRate ?? null };
  const source = await openFrameSource({ url: clip.url, table, engine });
  const hand = handClock();
  const player = new Player(source, table, hand.clock);
  players.push(player);
  const drawn: Drawn[] = [];
  player.onPicture((picture, index) => {
    drawn.push({ index, number: numberIn(picture, source.width, source.height) });
  });
  const shown = (index: number) =>
    vi.waitFor(() => expect(player.getSnapshot()).toMatchObject({ shownFrame: index, wantedFrame: index }), {
      timeout: 5_000,
      interval: 5,
    });
  await shown(0);
  const expectAllExact = () =>
    expect(drawn.filter(({ index, number }) => number !== clip.numberOf(index))).toEqual([]);
  return { clip, source, player, hand, drawn, shown, expectAllExact };
}

describe.each(['webcodecs', 'element'] as const)('the player on %s', (engine) => {
  test('steps forth and back, and stays inside the clip', async () => {
    const { player, shown, drawn, expectAllExact } = await playing('review', engine);
    for (const [count, at] of [
      [1, 1],
      [1, 2],
      [10, 12],
      [-1, 11],
      [-500, 0],
      [500, 95],
    ] as const) {
      player.step(count);
      await shown(at);
    }
    expectAllExact();
    expect(drawn.map(({ index }) => index)).toEqual(expect.arrayContaining([0, 1, 2, 12, 11, 95]));
  });

  test('the latest command wins and nothing else is drawn while paused', async () => {
    const { player, shown, drawn, expectAllExact } = await playing('long', engine);
    drawn.length = 0;
    for (const index of [250, 30, 199, 77, 120]) player.goTo(index);
    await shown(120);
    expect(new Set(drawn.map(({ index }) => index))).toEqual(new Set([120]));
    expectAllExact();
  });

  test('scrubbing ends on the frame under the finger', async () => {
    const { player, shown, drawn, expectAllExact } = await playing('review', engine);
    player.scrubStart();
    for (let index = 3; index <= 90; index += 3) player.scrubMove(index);
    for (let index = 90; index >= 41; index -= 7) player.scrubMove(index);
    expect(player.getSnapshot().mode).toBe('scrubbing');
    player.scrubEnd();
    await shown(41);
    expect(player.getSnapshot().mode).toBe('paused');
    expect(drawn.at(-1)?.index).toBe(41);
    expectAllExact();
  });

  test('plays by timestamps at a variable rate and stops at the end', async () => {
    const { clip, player, hand, shown, expectAllExact } = await playing('variable', engine);
    player.play();
    const { ptsUs } = clip.table;
    for (const index of [5, 19, 20, 33, 58]) {
      const middleMs = ((ptsUs[index] ?? 0) + (ptsUs[index + 1] ?? 0)) / 2000;
      hand.turn(middleMs - hand.clock.now());
      await shown(index);
    }
    hand.turn(10_000);
    await shown(59);
    expect(player.getSnapshot().mode).toBe('paused');
    expect(hand.isTurning).toBe(false);
    expectAllExact();
  });

  test('a loop turns over on both of its ends', async () => {
    const { player, hand, shown, drawn, expectAllExact } = await playing('review', engine);
    player.setLoop({ from: 24, to: 20 });
    expect(player.getSnapshot().loop).toEqual({ from: 20, to: 24 });
    player.play();
    await shown(20);
    drawn.length = 0;
    const order: number[] = [];
    for (let turn = 0; turn < 12; turn++) {
      hand.turn(1000 / 30);
      const { wantedFrame } = player.getSnapshot();
      await shown(wantedFrame);
      order.push(wantedFrame);
    }
    expect(order).toEqual([21, 22, 23, 24, 20, 21, 22, 23, 24, 20, 21, 22]);
    expectAllExact();
  });

  test('thumbnails and a still are of the exact frames', async () => {
    const { clip, source, player, shown } = await playing('review', engine);
    player.goTo(50);
    await shown(50);
    const seen = new Map<number, number | null>();
    const cells = [44, 46, 48, 50, 52, 90];
    await player.thumbnails(cells, 120, (index, bitmap) => {
      expect(bitmap.width).toBe(120);
      seen.set(index, numberIn(bitmap, bitmap.width, bitmap.height));
    });
    expect([...seen.keys()]).toEqual([50, 48, 52, 46, 44, 90]);
    for (const index of cells) expect(seen.get(index)).toBe(clip.numberOf(index));
    expect(player.getSnapshot().shownFrame).toBe(50);

    const blob = await player.still(31, 5000);
    expect(blob.type).toBe('image/jpeg');
    const still = await createImageBitmap(blob);
    expect([still.width, still.height]).toEqual([source.width, source.height]);
    expect(numberIn(still, still.width, still.height)).toBe(clip.numberOf(31));
    still.close();
  });
});

test('speed is a part of how fast it happened when the capture rate is known', async () => {
  // 30 pictures a second in the file, taken at 240: at speed 1 eight frames pass where the file says one.
  const { player, hand, shown, expectAllExact } = await playing('review', 'webcodecs', { captureRate: 240 });
  player.setSpeed(0.125);
  player.play();
  hand.turn(100.1);
  await shown(3);
  player.setSpeed(1);
  hand.turn(50);
  await shown(15);
  player.pause();
  expect(player.getSnapshot()).toMatchObject({ mode: 'paused', shownFrame: 15 });
  expectAllExact();
});

test('after a time in the background it plays on from the frame that was seen', async () => {
  const { player, hand, shown } = await playing('review');
  player.play();
  hand.turn(350);
  await shown(10);
  hand.pass(60_000);
  hand.comeBack();
  hand.turn(34);
  await shown(11);
  expect(player.getSnapshot().mode).toBe('playing');
});

test('a dial steps whole frames and keeps the rest', async () => {
  const { player, shown } = await playing('review');
  for (let turn = 0; turn < 5; turn++) player.jog(0.5);
  await shown(2);
  player.jog(0.5);
  await shown(3);
  player.jog(-1.25);
  player.jog(Number.NaN);
  await shown(2);
});

test('the snapshot stays the same object until something changes, and listeners hear each change', async () => {
  const { player, shown } = await playing('review');
  const before = player.getSnapshot();
  const heard = vi.fn();
  const stop = player.subscribe(heard);
  player.goTo(0);
  expect(player.getSnapshot()).toBe(before);
  expect(heard).not.toHaveBeenCalled();
  player.goTo(1);
  await shown(1);
  expect(heard).toHaveBeenCalled();
  expect(player.getSnapshot()).not.toBe(before);
  stop();
  const count = heard.mock.calls.length;
  player.goTo(2);
  await shown(2);
  expect(heard).toHaveBeenCalledTimes(count);
});

test('a loop of one frame is refused', async () => {
  const { player } = await playing('review');
  expect(() => player.setLoop({ from: 7, to: 7 })).toThrow('A loop needs two different frames.');
  expect(player.getSnapshot().loop).toBeNull();
});

test('a canvas given later gets the present frame, at the size of the rendition', async () => {
  const { clip, player, shown } = await playing('review');
  player.goTo(33);
  await shown(33);
  const canvas = document.createElement('canvas');
  const detach = player.attach(canvas);
  expect([canvas.width, canvas.height]).toEqual([360, 640]);
  const bitmap = await createImageBitmap(canvas);
  expect(numberIn(bitmap, 360, 640)).toBe(clip.numberOf(33));
  detach();
});
