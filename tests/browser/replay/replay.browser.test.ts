import { afterEach, describe, expect, test, vi } from 'vitest';
import type { Mark } from '@/lib/domain/marks/mark';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { PlayClock } from '@/lib/review/player/clock';
import { screenClock } from '@/lib/review/player/clock';
import type { Player } from '@/lib/review/player/player';
import { REPLAY_SPEEDS } from '@/lib/review/replay/replay';
import { nextFrame } from '../canvas/stage';
import {
  buildTimeline,
  CLIP,
  closeAll,
  comesTo,
  frames,
  openReplay,
  OTHER_CLIP,
  toneOf,
  toneUrl,
} from './stage';

afterEach(closeAll);

const CLAY = [0xf0, 0x93, 0x6a, 255];
const ring = (overrides: Partial<Mark> = {}) =>
  ({
    version: 1,
    id: '018f5e2a-0000-7000-8000-00000000a001',
    clipId: CLIP,
    frame: 10,
    span: 1,
    chalk: 'clay',
    itemId: null,
    hidden: false,
    kind: 'line',
    points: [
      { x: 0.25, y: 0.5 },
      { x: 0.75, y: 0.5 },
    ],
    ...overrides,
  }) as Mark;
/** A pixel of a layer at a place in fractions of a stage 360 wide and 640 high. */
const pixel = (canvas: HTMLCanvasElement, x: number, y: number) => {
  const fine = canvas.width / 360;
  return [...canvas.getContext('2d')!.getImageData(x * 360 * fine, y * 640 * fine, 1, 1).data];
};

describe('playing', () => {
  test('goes to its end by the voice, tells how far, and begins again from there', async () => {
    const onProgress = vi.fn();
    const timeline = buildTimeline(
      1200,
      frames(1200, 100, (n) => n),
    );
    const { replay, audio, shows } = await openReplay({ timeline, onProgress });
    replay.play();
    expect(replay.getSnapshot()).toMatchObject({ state: 'playing', isOver: false });
    await vi.waitFor(() => expect(replay.getSnapshot().isOver).toBe(true), { timeout: 5000 });
    expect(replay.getSnapshot()).toMatchObject({ state: 'paused', ms: 1200, furthestMs: 1200 });
    expect(audio!.paused).toBe(true);
    expect(onProgress).toHaveBeenLastCalledWith({ ms: 1200, furthestMs: 1200, isOver: true });
    await shows(11);
    replay.play();
    expect(replay.getSnapshot().ms).toBeLessThan(200);
    replay.toggle();
    expect(replay.getSnapshot().state).toBe('paused');
    expect(replay.getSnapshot().furthestMs).toBe(1200);
  });

  test('stops and goes on where it stopped', async () => {
    const { replay, audio } = await openReplay({
      timeline: buildTimeline(
        5000,
        frames(5000, 50, (n) => n % 96),
      ),
    });
    replay.play();
    await comesTo(replay, 300);
    replay.pause();
    const { ms } = replay.getSnapshot();
    expect(Math.abs(audio!.currentTime * 1000 - ms)).toBeLessThan(60);
    replay.play();
    await comesTo(replay, ms + 200);
    expect(replay.getSnapshot().ms).toBeLessThan(ms + 2000);
  });

  test('goes on without a voice that is shorter than what was done, and without any', async () => {
    const timeline = buildTimeline(
      900,
      frames(900, 100, (n) => n),
    );
    const short = await openReplay({ timeline, voice: toneOf(400) });
    short.replay.play();
    await vi.waitFor(() => expect(short.replay.getSnapshot().isOver).toBe(true), { timeout: 5000 });
    await short.shows(8);
    short.replay.seek(700);
    short.replay.play();
    await vi.waitFor(() => expect(short.replay.getSnapshot().isOver).toBe(true), { timeout: 5000 });
    short.replay.dispose();

    const silent = await openReplay({ timeline: { ...timeline, hasVoice: false }, voice: null });
    expect(silent.replay.getSnapshot().voice).toBe('none');
    silent.replay.setSpeed(2);
    const began = performance.now();
    silent.replay.play();
    await vi.waitFor(() => expect(silent.replay.getSnapshot().isOver).toBe(true), {
      timeout: 5000,
      interval: 5,
    });
    expect(performance.now() - began).toBeGreaterThan(400);
    expect(performance.now() - began).toBeLessThan(850);
    await silent.shows(8);
  });

  test('keeps the pitch at every speed, also while it plays', async () => {
    const { replay, audio } = await openReplay({ timeline: buildTimeline(60_000) });
    replay.play();
    for (const speed of REPLAY_SPEEDS) {
      replay.setSpeed(speed);
      expect([audio!.playbackRate, audio!.preservesPitch]).toEqual([speed, true]);
      expect(replay.getSnapshot().speed).toBe(speed);
    }
    await comesTo(replay, 50);
    const [began, from] = [performance.now(), audio!.currentTime];
    await comesTo(replay, from * 1000 + 900);
    expect((audio!.currentTime - from) / ((performance.now() - began) / 1000)).toBeGreaterThan(1.5);
  });

  test('is told at most ten times a second, and stops with the headset’s own key', async () => {
    const { replay, audio } = await openReplay({
      timeline: buildTimeline(
        5000,
        frames(5000, 16, (n) => n % 96),
      ),
    });
    await vi.waitFor(() => expect(replay.getSnapshot().shown).not.toBeNull());
    replay.play();
    await comesTo(replay, 200);
    const heard = vi.fn();
    replay.subscribe(heard);
    await comesTo(replay, 1300);
    expect(heard.mock.calls.length).toBeLessThan(18);
    audio!.pause();
    await vi.waitFor(() => expect(replay.getSnapshot().state).toBe('paused'));
    void audio!.play();
    await vi.waitFor(() => expect(replay.getSnapshot().state).toBe('playing'));
  });

  test('shows captions and chapters of the moment, and goes from chapter to chapter', async () => {
    const chapters = [0, 4000, 8000].map((fromMs, n) => ({
      fromMs,
      toMs: fromMs + 4000,
      checkpoint: null,
      itemId: `item-${n}`,
      title: `Item ${n}`,
    }));
    const { replay } = await openReplay({
      timeline: buildTimeline(12_000, [{ t: 5000, kind: 'caption', text: 'Written.' }]),
      chapters,
      captions: [{ fromMs: 1000, toMs: 2000, text: 'Watch.' }],
      startMs: 1500,
      furthestMs: 7000,
    });
    expect(replay.getSnapshot()).toMatchObject({
      ms: 1500,
      caption: 'Watch.',
      chapter: chapters[0],
      furthestMs: 7000,
    });
    replay.seekChapter(1);
    expect(replay.getSnapshot()).toMatchObject({ ms: 4000, caption: '', chapter: chapters[1] });
    replay.seek(6500);
    expect(replay.getSnapshot().caption).toBe('Written.');
    replay.setCaptions([{ fromMs: 6000, toMs: 7000, text: 'Changed.' }]);
    expect(replay.getSnapshot().caption).toBe('Changed.');
    replay.seekChapter(-1);
    expect(replay.getSnapshot().ms).toBe(4000);
    replay.seekChapter(-1);
    expect(replay.getSnapshot().ms).toBe(0);
    replay.seek(Number.NaN);
    expect(replay.getSnapshot().ms).toBe(0);
  });
});

describe('what is laid over the picture', () => {
  test('marks of the drawn frame only, as they grow, go and hide; the pointer; sharp at any zoom', async () => {
    const timeline = buildTimeline(10_000, [
      { t: 1000, kind: 'mark', mark: ring() },
      { t: 2000, kind: 'frame', clipId: CLIP, frame: 11 },
      { t: 3000, kind: 'frame', clipId: CLIP, frame: 10 },
      { t: 4000, kind: 'chalk', isShown: false },
      { t: 5000, kind: 'chalk', isShown: true },
      { t: 5000, kind: 'look', look: { x: 0.5, y: 0.5, zoom: 4 } },
      { t: 5000, kind: 'point', at: { x: 0.5, y: 0.4 } },
      { t: 7000, kind: 'rub', ids: [ring().id] },
    ]);
    const { replay, layer, shows, sceneAt } = await openReplay({ timeline });
    await shows(10);
    const marked = async (ms: number, x = 0.5, y = 0.5) => {
      replay.seek(ms);
      await shows(sceneAt(ms).frame);
      await nextFrame();
      return pixel(layer('marks'), x, y).join() === CLAY.join();
    };
    expect(await marked(500)).toBe(false);
    expect(await marked(1500)).toBe(true);
    expect(await marked(1500, 0.2)).toBe(false);
    expect(await marked(2500)).toBe(false);
    expect(await marked(3500)).toBe(true);
    expect(await marked(4500)).toBe(false);
    // Four times as large, the line runs over both edges; the canvas is as large as before.
    expect(await marked(5500, 0.02)).toBe(true);
    expect(replay.getSnapshot().zoom).toBeCloseTo(4, 1);
    expect([layer('marks').width, layer('marks').height]).toEqual([360, 640]);
    // A tenth of the picture above the middle, four times as far on the stage; the ring is 15 CSS pixels around it.
    expect(pixel(layer('live'), 0.5 + 15 / 360, 0.1)).toEqual(CLAY);
    expect(await marked(7500)).toBe(false);
    expect(await marked(500)).toBe(false);
    expect(pixel(layer('live'), 0.5 + 15 / 360, 0.1)[3]).toBe(0);
  });

  test('follows the size of the stage', async () => {
    const { replay, layer, stage, shows } = await openReplay({
      timeline: buildTimeline(1000, [], { marks: [ring()], look: { x: 0.5, y: 0.5, zoom: 2 } }),
    });
    await shows(10);
    stage.style.width = '180px';
    stage.style.height = '320px';
    await vi.waitFor(() => expect(layer('marks').width).toBe(180));
    await nextFrame();
    expect([...layer('marks').getContext('2d')!.getImageData(90, 160, 1, 1).data]).toEqual(CLAY);
    expect(replay.getSnapshot().zoom).toBeCloseTo(2, 1);
  });

  test.each([
    ['another clip', OTHER_CLIP],
    ['another frame of the same clip', CLIP],
  ])('a second pane with %s, beside it or over it', async (_, clipId) => {
    const timeline = {
      ...buildTimeline(9000, [
        { t: 1000, kind: 'beside', beside: { clipId, frame: 70, opacity: 0 } },
        { t: 2000, kind: 'frame', clipId: CLIP, frame: 20 },
        { t: 3000, kind: 'beside', beside: { clipId, frame: 71, opacity: 0.5 } },
        { t: 4000, kind: 'beside', beside: null },
      ] as const),
      clips: [CLIP, OTHER_CLIP].map((id) => ({ clipId: id, frameCount: 96 })),
    };
    const { replay, clip, stage, layer, shows, seen } = await openReplay({ timeline, size: [720, 640] });
    replay.seek(2500);
    await shows(20);
    await vi.waitFor(() => expect(layer('picture', 1)).toBeDefined());
    await vi.waitFor(() => expect([seen(0), seen(1)]).toEqual([clip.numberOf(20), clip.numberOf(70)]));
    expect([layer('picture', 0).width, layer('picture', 1).width]).toEqual([360, 360]);
    replay.seek(3500);
    await vi.waitFor(() => expect(layer('picture', 1).width).toBe(720));
    expect(layer('picture', 1).parentElement!.style.opacity).toBe('0.5');
    replay.seek(4500);
    await vi.waitFor(() => expect(stage.querySelectorAll('canvas')).toHaveLength(3));
    await shows(20);
  });

  test('goes from clip to clip, and keeps the old picture until the new one is there', async () => {
    const timeline = {
      ...buildTimeline(4000, [{ t: 2000, kind: 'frame', clipId: OTHER_CLIP, frame: 55 }]),
      clips: [CLIP, OTHER_CLIP].map((id) => ({ clipId: id, frameCount: 96 })),
    };
    const { replay, clip, shows, stage, seen } = await openReplay({ timeline });
    await shows(10);
    replay.seek(2500);
    expect(seen()).toBe(clip.numberOf(10));
    await shows(55);
    expect(stage.querySelectorAll('canvas')).toHaveLength(3);
    expect(seen()).toBe(clip.numberOf(55));
    replay.seek(500);
    await shows(10);
    expect(seen()).toBe(clip.numberOf(10));
  });
});

test('one may look around by hand and come back to the coach’s place', async () => {
  const timeline = buildTimeline(
    20_000,
    frames(20_000, 1000, (n) => 20 + n),
    {
      look: { x: 0.5, y: 0.5, zoom: 2 },
    },
  );
  const { replay, audio, shows } = await openReplay({ timeline });
  await shows(10);
  replay.seek(3100);
  replay.play();
  await comesTo(replay, 3300);
  replay.step(3);
  expect(replay.getSnapshot().state).toBe('looking');
  expect(audio!.paused).toBe(true);
  const { ms } = replay.getSnapshot();
  await shows(25);
  replay.goToFrame(9999);
  await shows(95);
  replay.step(-2);
  await shows(93);
  replay.zoomBy(2);
  replay.panBy({ left: 40, top: 0 });
  expect(replay.getSnapshot()).toMatchObject({ state: 'looking', ms, scene: { frame: 22 } });
  expect(replay.getSnapshot().zoom).toBeCloseTo(4, 1);

  replay.comeBack();
  await shows(22);
  expect(replay.getSnapshot()).toMatchObject({ state: 'paused', ms });
  expect(replay.getSnapshot().zoom).toBeCloseTo(2, 1);

  replay.lookAround();
  replay.goToFrame(50);
  await shows(50);
  replay.play();
  await shows(22);
  expect(replay.getSnapshot().state).toBe('playing');
  replay.zoomBy(3);
  replay.seek(5500);
  await shows(24);
  expect(replay.getSnapshot()).toMatchObject({ state: 'paused', ms: 5500 });
});

/** The screen's clock, whose turns can be taken away as in a hidden tab. */
function tabClock() {
  let isHidden = false;
  const waiting: (() => void)[] = [];
  const returns = new Set<() => void>();
  const clock: PlayClock = {
    now: () => performance.now(),
    onNextTurn: (callback) =>
      screenClock.onNextTurn(() => {
        if (isHidden) waiting.push(callback);
        else callback();
      }),
    onReturn: (callback) => {
      returns.add(callback);
      return () => returns.delete(callback);
    },
  };
  return {
    clock,
    hide: () => (isHidden = true),
    show: () => {
      isHidden = false;
      for (const callback of returns) callback();
      for (const callback of waiting.splice(0)) callback();
    },
    listeners: () => returns.size,
  };
}

test('after a time in the background the picture is that of the voice', async () => {
  const tab = tabClock();
  const timeline = buildTimeline(
    20_000,
    frames(20_000, 250, (n) => n % 96),
  );
  const { replay, audio, shows, sceneAt } = await openReplay({ timeline, clock: tab.clock });
  await shows(10);
  replay.play();
  await comesTo(replay, 300);
  tab.hide();
  const left = replay.getSnapshot().shown!.frame;
  await vi.waitFor(() => expect(audio!.currentTime).toBeGreaterThan(2.5), { timeout: 5000 });
  expect(replay.getSnapshot().shown!.frame).toBeLessThanOrEqual(left + 1);
  tab.show();
  const frame = sceneAt(audio!.currentTime * 1000).frame;
  await vi.waitFor(() => expect(replay.getSnapshot().shown!.frame).toBeGreaterThanOrEqual(frame));
  expect(replay.getSnapshot().shown!.frame).toBeLessThanOrEqual(frame + 2);
  expect(replay.getSnapshot().state).toBe('playing');
});

describe('when something is missing', () => {
  test('a broken voice is said, and the breakdown plays without it', async () => {
    const audio = new Audio('/there-is-no-such-voice.webm');
    const timeline = buildTimeline(
      800,
      frames(800, 100, (n) => n),
    );
    const { replay, shows } = await openReplay({
      timeline,
      voice: audio,
      captions: [{ fromMs: 0, toMs: 800, text: 'Read me.' }],
    });
    replay.play();
    await vi.waitFor(() => expect(replay.getSnapshot().voice).toBe('failed'));
    expect(replay.getSnapshot().fault?.forPeople).toContain('plays without it');
    expect(replay.getSnapshot().caption).toBe('Read me.');
    await vi.waitFor(() => expect(replay.getSnapshot().isOver).toBe(true), { timeout: 5000 });
    await shows(7);

    audio.src = toneUrl(800);
    replay.retry();
    await vi.waitFor(() => expect(replay.getSnapshot()).toMatchObject({ voice: 'ok', fault: null }));
    replay.play();
    await comesTo(replay, 100);
    expect(audio.paused).toBe(false);
  });

  test('an address that ran out is renewed once, and the voice goes on from there', async () => {
    const refreshVoice = vi.fn(() => Promise.resolve(toneUrl(3000)));
    const { replay, audio } = await openReplay({
      timeline: buildTimeline(
        3000,
        frames(3000, 100, (n) => n),
      ),
      voice: new Audio('/gone.webm'),
      refreshVoice,
      startMs: 1000,
    });
    replay.play();
    await vi.waitFor(() => expect(replay.getSnapshot().voice).toBe('ok'));
    await comesTo(replay, 1200);
    expect(audio!.currentTime).toBeGreaterThan(1);
    expect(replay.getSnapshot().fault).toBeNull();
    expect(refreshVoice).toHaveBeenCalledTimes(1);
  });

  test('no fresh address either', async () => {
    const { replay } = await openReplay({
      timeline: buildTimeline(3000),
      voice: new Audio('/gone.webm'),
      refreshVoice: () => Promise.reject(new Error('signed out')),
    });
    await vi.waitFor(() => expect(replay.getSnapshot().voice).toBe('failed'));
  });

  test('a browser that holds sound back is told of, and nothing runs', async () => {
    const { replay, audio } = await openReplay({ timeline: buildTimeline(3000) });
    vi.spyOn(audio!, 'play').mockRejectedValueOnce(new DOMException('no gesture', 'NotAllowedError'));
    replay.play();
    await vi.waitFor(() => expect(replay.getSnapshot().fault?.forPeople).toContain('Press play once more'));
    expect(replay.getSnapshot().state).toBe('paused');
    replay.play();
    await comesTo(replay, 100);
    expect(replay.getSnapshot().fault).toBeNull();
  });

  test('a clip that is gone is said, and the voice plays on', async () => {
    const gone = new CagepostError('not-found', 'A clip of this breakdown was removed.');
    let isGone = true;
    let own: (() => Promise<Player>) | null = null;
    const opened = await openReplay({
      timeline: buildTimeline(4000),
      players: () => (isGone ? Promise.reject(gone) : own!()),
    });
    own = () => opened.player();
    await vi.waitFor(() => expect(opened.replay.getSnapshot().fault).toBe(gone));
    opened.replay.play();
    await comesTo(opened.replay, 300);
    isGone = false;
    opened.replay.retry();
    await opened.shows(10);
    expect(opened.replay.getSnapshot().fault).toBeNull();
  });

  test('a clip that opens with an unknown error has a sentence too', async () => {
    const { replay } = await openReplay({
      timeline: buildTimeline(4000),
      players: () => {
        throw new TypeError('Failed to fetch');
      },
    });
    await vi.waitFor(() => expect(replay.getSnapshot().fault?.forPeople).toContain('could not be loaded'));
  });

  test('a picture that is long in coming holds the voice until it is there', async () => {
    let arrive = (): void => undefined;
    const opened = await openReplay({
      timeline: buildTimeline(
        4000,
        frames(4000, 500, (n) => n),
      ),
      players: (clipId) =>
        new Promise((resolve) => {
          arrive = () => resolve(opened.player(clipId));
        }),
    });
    const { replay, audio, shows } = opened;
    replay.play();
    await vi.waitFor(() => expect(replay.getSnapshot().isWaiting).toBe(true));
    await vi.waitFor(() => expect(audio!.paused).toBe(true));
    expect(replay.getSnapshot()).toMatchObject({ state: 'playing', shown: null });
    arrive();
    await shows(10);
    await comesTo(replay, 200);
    expect(replay.getSnapshot().isWaiting).toBe(false);
    expect(audio!.paused).toBe(false);
  });
});

test('after dispose nothing is left behind', async () => {
  const tab = tabClock();
  const timeline = buildTimeline(
    5000,
    frames(5000, 100, (n) => n),
  );
  const audio = toneOf(5000);
  const added = vi.spyOn(audio, 'addEventListener');
  const removed = vi.spyOn(audio, 'removeEventListener');
  const onDocument = vi.spyOn(document, 'addEventListener');
  const offDocument = vi.spyOn(document, 'removeEventListener');
  const onProgress = vi.fn();
  const opened = await openReplay({ timeline, voice: audio, clock: tab.clock, onProgress });
  const { replay, stage } = opened;
  const player = await opened.player();
  replay.play();
  await comesTo(replay, 300);
  const heard = vi.fn();
  replay.subscribe(heard);
  replay.dispose();
  replay.dispose();

  expect(onProgress).toHaveBeenCalledTimes(2); // at the first turn, and at the end
  expect(stage.childElementCount).toBe(0);
  expect(audio.paused).toBe(true);
  expect(removed).toHaveBeenCalledTimes(added.mock.calls.length);
  const own = (calls: readonly (readonly unknown[])[]) =>
    calls.filter(([name]) => name === 'visibilitychange').length;
  // The player listens too, and is its owner's to dispose of.
  expect(own(onDocument.mock.calls) - own(offDocument.mock.calls)).toBe(1);
  expect(tab.listeners()).toBe(0);
  heard.mockClear();
  player.goTo(40);
  replay.play();
  replay.seek(10);
  replay.step(1);
  await nextFrame();
  expect(heard).not.toHaveBeenCalled();
  expect(audio.paused).toBe(true);
  vi.restoreAllMocks();
});
