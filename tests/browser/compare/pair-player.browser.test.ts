import { afterEach, describe, expect, test, vi } from 'vitest';
import { PairPlayer } from '@/lib/review/compare/pair-player';
import type { FrameSource } from '@/lib/review/media/frame-source';
import { openFrameSource } from '@/lib/review/media/open-frame-source';
import { Player } from '@/lib/review/player/player';
import type { ClipName } from '../player/clip-recipes';
import { countedClip, numberIn } from '../player/counted-clip';
import { handClock } from '../player/hand-clock';

const open: { dispose(): void }[] = [];
afterEach(() => {
  for (const one of open.splice(0).reverse()) one.dispose();
});

interface Given {
  name: ClipName;
  captureRate?: number;
  engine?: FrameSource['engine'];
}

/** A player of a counted clip, with the index and the burnt-in number of the picture drawn last. */
async function drawnPlayer({ name, captureRate, engine }: Given) {
  const clip = await countedClip(name);
  const table = { ...clip.table, captureRate: captureRate ?? null };
  const source = await openFrameSource({ url: clip.url, table, engine });
  const player = new Player(source, table);
  open.push(player);
  const drawn = { index: -1, number: null as number | null, count: 0 };
  player.onPicture((picture, index) => {
    drawn.index = index;
    drawn.number = numberIn(picture, source.width, source.height);
    drawn.count += 1;
  });
  return { clip, player, drawn };
}

async function paired(a: Given, b: Given, locks: { a: number; b: number }) {
  const [one, two] = [await drawnPlayer(a), await drawnPlayer(b)];
  const hand = handClock();
  const pair = new PairPlayer(one.player, two.player, locks, hand.clock);
  open.push(pair);
  const settled = () =>
    vi.waitFor(
      () => {
        const { settled, moment } = pair.getSnapshot();
        expect(settled).toBe(moment);
      },
      { timeout: 5_000, interval: 2 },
    );
  /** What is wrong with the two pictures that stand there now; read from the pictures themselves. */
  const fault = () => {
    const { moment } = pair.getSnapshot();
    const isRight =
      one.drawn.number === one.clip.numberOf(moment.a) && two.drawn.number === two.clip.numberOf(moment.b);
    return isRight ? [] : [{ moment, a: one.drawn, b: two.drawn }];
  };
  await settled();
  return { pair, hand, settled, fault, one, two };
}

/** The frame of `to` that lies nearest in real time, by trying all of them: another way than the pairing's own. */
const nearestByTrial = (
  from: { ptsUs: readonly number[]; stretch: number; lock: number },
  frame: number,
  to: { ptsUs: readonly number[]; stretch: number; lock: number },
) => {
  const real = (clip: typeof from, index: number) =>
    (clip.ptsUs[index]! - clip.ptsUs[clip.lock]!) / clip.stretch;
  const away = to.ptsUs.map((_, index) => Math.abs(real(to, index) - real(from, frame)));
  return away.indexOf(Math.min(...away));
};

describe.each(['webcodecs', 'element'] as const)('two clips on %s', (engine) => {
  test('240 beside 30 pictures a second, forth and back: every picture is the right one', async () => {
    const locks = { a: 40, b: 30 };
    const { pair, settled, fault, one, two } = await paired(
      { name: 'fast', engine },
      { name: 'review', engine },
      locks,
    );
    const fast = { ptsUs: one.player.source.ptsUs, stretch: 1, lock: locks.a };
    const slow = { ptsUs: two.player.source.ptsUs, stretch: 1, lock: locks.b };
    expect(pair.getSnapshot().moment).toEqual({ a: 40, b: 30, us: 0 });
    const { moments } = pair.getSnapshot();
    const first = moments.findLastIndex(({ a }) => a === 0);
    const last = moments.findIndex(({ a }) => a === 119);
    const order = [
      ...Array.from({ length: last - first + 1 }, (_, at) => first + at),
      ...Array.from({ length: last - first }, (_, at) => last - 1 - at),
    ];
    const wrong = [];
    let pictures = 0;
    for (const index of order) {
      pair.goTo(index);
      await settled();
      const { moment } = pair.getSnapshot();
      if (moment.b !== nearestByTrial(fast, moment.a, slow)) wrong.push(moment);
      wrong.push(...fault());
      pictures += 2;
    }
    expect(wrong).toEqual([]);
    expect(pictures).toBeGreaterThanOrEqual(404);
  });

  test('slow motion in the file goes by the rate at which it was taken; a variable rate by its own times', async () => {
    const locks = { a: 20, b: 25 };
    const { pair, settled, fault, one, two } = await paired(
      { name: 'review', captureRate: 240, engine },
      { name: 'variable', engine },
      locks,
    );
    const stretched = { ptsUs: one.player.source.ptsUs, stretch: one.player.stretch, lock: locks.a };
    const variable = { ptsUs: two.player.source.ptsUs, stretch: 1, lock: locks.b };
    expect(one.player.stretch).toBeCloseTo(8, 1);
    const wrong = [];
    const { moments } = pair.getSnapshot();
    for (let index = 0; index < moments.length; index += 3) {
      pair.goTo(index);
      await settled();
      const { moment } = pair.getSnapshot();
      const isInside = moment.a > 0 && moment.a < 95;
      if (isInside && moment.b !== nearestByTrial(stretched, moment.a, variable)) wrong.push(moment);
      wrong.push(...fault());
    }
    expect(wrong).toEqual([]);
  });

  test('steps, and scrubbing ends on the step under the finger', async () => {
    const { pair, settled, fault } = await paired(
      { name: 'review', engine },
      { name: 'turned', engine },
      { a: 10, b: 5 },
    );
    pair.step(1);
    await settled();
    expect(pair.getSnapshot().moment).toMatchObject({ a: 11, b: 6 });
    pair.step(-3);
    await settled();
    expect(pair.getSnapshot().moment).toMatchObject({ a: 8, b: 3 });
    pair.scrubStart();
    for (let index = 0; index <= 80; index += 8) pair.scrubMove(index);
    pair.scrubMove(17);
    expect(pair.getSnapshot().mode).toBe('scrubbing');
    pair.scrubEnd();
    await settled();
    expect(pair.getSnapshot()).toMatchObject({ mode: 'paused', index: 17, moment: { a: 17, b: 12 } });
    expect(fault()).toEqual([]);
    pair.step(-500);
    await settled();
    expect(pair.getSnapshot().index).toBe(0);
    pair.goToLock();
    await settled();
    expect(pair.getSnapshot().moment).toEqual({ a: 10, b: 5, us: 0 });
    expect(fault()).toEqual([]);
  });
});

test('one clip alone is moved to the right frame, and the pair is locked there', async () => {
  const { pair, settled, fault } = await paired({ name: 'review' }, { name: 'turned' }, { a: 10, b: 5 });
  pair.setLoop({ from: 2, to: 9 });
  pair.nudge('b', 4);
  await settled();
  expect(pair.getSnapshot()).toMatchObject({
    locks: { a: 10, b: 9 },
    moment: { a: 10, b: 9, us: 0 },
    loop: null,
  });
  pair.step(2);
  await settled();
  expect(pair.getSnapshot().moment).toMatchObject({ a: 12, b: 11 });
  pair.lock({ a: 0, b: 500 });
  await settled();
  expect(pair.getSnapshot().locks).toEqual({ a: 0, b: 29 });
  expect(fault()).toEqual([]);
});

test('plays both by one clock and stops at the end of the longer one', async () => {
  const { pair, hand, settled, fault } = await paired({ name: 'review' }, { name: 'fast' }, { a: 3, b: 24 });
  pair.setSpeed(0.5);
  pair.goTo(0);
  await settled();
  pair.play();
  const wrong = [];
  for (let turn = 0; turn < 40; turn++) {
    hand.turn(25); // 12.5 ms of the swing
    await settled();
    wrong.push(...fault());
  }
  // 40 turns: half a second after the first step, 100 ms before the lock.
  const { moment, moments } = pair.getSnapshot();
  expect(Math.abs(moment.us - (moments[0]!.us + 500_000))).toBeLessThanOrEqual(20_000);
  hand.turn(20_000);
  await settled();
  hand.turn(1);
  await vi.waitFor(() => expect(pair.getSnapshot().mode).toBe('paused'));
  await settled();
  expect(pair.getSnapshot().index).toBe(moments.length - 1);
  expect(hand.isTurning).toBe(false);
  expect([...wrong, ...fault()]).toEqual([]);
});

test('a loop turns over on both of its ends', async () => {
  const { pair, hand, settled, fault } = await paired(
    { name: 'review' },
    { name: 'turned' },
    { a: 10, b: 5 },
  );
  pair.setSpeed(1);
  pair.setLoop({ from: 14, to: 10 });
  expect(pair.getSnapshot().loop).toEqual({ from: 10, to: 14 });
  pair.play();
  await settled();
  const order: number[] = [];
  for (let turn = 0; turn < 11; turn++) {
    hand.turn(33.4);
    await settled();
    order.push(pair.getSnapshot().index);
    expect(fault()).toEqual([]);
  }
  expect(order).toEqual([11, 12, 13, 14, 10, 11, 12, 13, 14, 10, 11]);
  pair.setLoop({ from: 3, to: 3 });
  expect(pair.getSnapshot().loop).toEqual({ from: 10, to: 14 });
});

test('while it plays nothing moves on before both pictures of a step are drawn', async () => {
  const { pair, hand, settled } = await paired({ name: 'long' }, { name: 'review' }, { a: 200, b: 40 });
  pair.goTo(0);
  await settled();
  pair.setSpeed(1);
  pair.play();
  hand.turn(2_500); // far on: the picture cannot be at hand
  const { moment, settled: shown } = pair.getSnapshot();
  expect(moment.us).toBeGreaterThan(shown!.us);
  hand.turn(400);
  expect(pair.getSnapshot().moment).toBe(moment);
  await settled();
  hand.turn(1); // held for longer than a moment: it goes on from what is seen
  await settled();
  expect(pair.getSnapshot().moment.us - moment.us).toBeLessThan(70_000);
  pair.pause();
  expect(pair.getSnapshot().mode).toBe('paused');
});
