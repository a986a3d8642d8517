import { afterEach, expect, test, vi } from 'vitest';
import { joinParts } from '@/lib/domain/breakdowns/parse-part';
import { indexTimeline, sceneAt } from '@/lib/domain/breakdowns/scene';
import { decode, openBench } from './bench-of';

type Bench = Awaited<ReturnType<typeof openBench>>;
const benches: Bench[] = [];
const bench = async (more?: Parameters<typeof openBench>[0]) => {
  const opened = await openBench(more);
  benches.push(opened);
  return opened;
};
afterEach(() => {
  vi.restoreAllMocks();
  for (const each of benches.splice(0)) each.close();
});
const recordFor = async (at: Bench, ms: number) => {
  const before = at.session.getSnapshot().ms;
  await at.until(() => at.session.getSnapshot().ms >= before + ms);
};

test('voice and events of a take come to the server in parts that fold to what was shown', async () => {
  const at = await bench();
  await at.session.check();
  expect(at.session.getSnapshot()).toMatchObject({ phase: 'ready', fault: null });
  await at.until(() => at.session.getSnapshot().level > 0.2);
  await at.session.start();
  expect(at.session.getSnapshot().phase).toBe('recording');
  // A step within the first millisecond would stand at 0 too.
  await recordFor(at, 100);
  at.player.step(5);
  await at.until(() => at.player.getSnapshot().shownFrame === 5);
  at.board.run('zoom-in');
  await recordFor(at, 1500);
  at.player.goTo(20);
  await at.until(() => at.player.getSnapshot().shownFrame === 20);
  await recordFor(at, 700);
  await at.session.keep();
  expect(at.session.getSnapshot().phase).toBe('kept');

  const [kept] = at.kept;
  const [piece] = kept?.recipe.pieces ?? [];
  if (!piece || !kept) throw new Error('Nothing was kept');
  expect(kept.parts).toEqual([{ segmentId: piece.segmentId, count: 1 }]);
  expect(at.begun).toEqual([{ breakdownId: kept.breakdownId, hasVoice: true }]);
  const parts = at.ofTake(piece.segmentId);
  const take = joinParts(parts.map((part) => part.head));
  expect(take.missing).toEqual([]);
  expect(take.durationMs).toBeGreaterThanOrEqual(2200);
  const index = indexTimeline({ events: take.events, durationMs: take.durationMs });
  expect(sceneAt(index, 0)).toMatchObject({ frame: 0, isPlaying: false });
  expect(sceneAt(index, take.durationMs)).toMatchObject({ frame: 20, look: { zoom: 1.4 } });
  const sound = await decode(parts.map((part) => part.voice));
  expect(Math.abs(sound.duration * 1000 - take.durationMs)).toBeLessThan(250);
  // A take of speech at 24 kbit/s; the container and its first packets weigh a little more.
  expect(parts.reduce((sum, part) => sum + part.voice.byteLength, 0)).toBeLessThan(take.durationMs * 6);
});

test('a rest is taken out of the clock and of the voice alike', async () => {
  const at = await bench();
  await at.session.check();
  await at.session.start();
  await recordFor(at, 1000);
  at.session.pause();
  const { ms } = at.session.getSnapshot();
  const began = performance.now();
  await vi.waitFor(() => expect(performance.now() - began).toBeGreaterThan(1500), { timeout: 4000 });
  expect(at.session.getSnapshot()).toMatchObject({ phase: 'paused' });
  expect(at.session.getSnapshot().ms).toBeLessThan(ms + 150);
  await at.session.resume();
  await recordFor(at, 1000);
  await at.session.stop();
  await at.until(() => at.session.getSnapshot().partsSent === 1);
  const [part] = [...at.parts.values()];
  if (!part) throw new Error('No part');
  const sound = await decode([part.voice]);
  expect(part.head.toMs).toBeLessThan(3000);
  expect(Math.abs(sound.duration * 1000 - part.head.toMs)).toBeLessThan(300);
});

test('a free hand line grows under the hand and is whole once it is lifted', async () => {
  const at = await bench();
  await at.session.start('silent');
  at.board.run('tool-freehand');
  const box = at.stage.getBoundingClientRect();
  const fire = (type: string, x: number, y: number) =>
    at.stage.dispatchEvent(
      new PointerEvent(type, {
        pointerId: 7,
        pointerType: 'mouse',
        button: 0,
        buttons: 1,
        clientX: box.left + x,
        clientY: box.top + y,
        bubbles: true,
      }),
    );
  fire('pointerdown', 100, 100);
  for (let step = 1; step <= 12; step += 1) {
    fire('pointermove', 100 + step * 20, 100 + step * 10);
    await new Promise((drawn) => requestAnimationFrame(drawn));
  }
  fire('pointerup', 340, 220);
  await recordFor(at, 100);
  await at.session.stop();
  await at.until(() => at.session.getSnapshot().partsSent === 1);
  const events = [...at.parts.values()].flatMap((part) => part.head.events);
  const grows = events.filter((event) => event.kind === 'grow');
  expect(grows.length).toBeGreaterThan(2);
  expect(grows.length).toBeLessThan(13);
  const [mark] = at.board.allMarks().all;
  const last = events.filter((event) => event.kind === 'mark').at(-1);
  if (last?.kind !== 'mark' || !mark) throw new Error('The line is not whole');
  expect(last.mark).toMatchObject({ id: mark.id, kind: 'freehand' });
  // To a hundredth of a pixel: 1e-5 of a picture of 1280.
  last.mark.points.forEach((point, at) => {
    expect(Math.abs(point.x - (mark.points[at]?.x ?? 9))).toBeLessThan(1e-5);
    expect(Math.abs(point.y - (mark.points[at]?.y ?? 9))).toBeLessThan(1e-5);
  });
  const points = events.filter((event) => event.kind === 'point');
  // The hand before it draws and after it; while it draws, the line is where it is.
  expect(points.length).toBeGreaterThanOrEqual(1);
  const index = indexTimeline({ events, durationMs: 10_000 });
  expect(sceneAt(index, 10_000).marks).toEqual([last.mark]);
});

test.each([
  ['a page out of sight', 'hidden'],
  ['a muted microphone', 'muted'],
] as const)('%s pauses the take, says why, and it goes on', async (_name, why) => {
  const ask = vi.spyOn(navigator.mediaDevices, 'getUserMedia');
  const at = await bench();
  await at.session.check();
  await at.session.start();
  await recordFor(at, 600);
  if (why === 'hidden') {
    const hidden = vi.spyOn(document, 'hidden', 'get').mockReturnValue(true);
    document.dispatchEvent(new Event('visibilitychange'));
    hidden.mockRestore();
  } else {
    const stream = await (ask.mock.results.at(-1)?.value as Promise<MediaStream>);
    stream.getAudioTracks()[0]?.dispatchEvent(new Event('mute'));
  }
  expect(at.session.getSnapshot()).toMatchObject({ phase: 'paused' });
  expect(at.session.getSnapshot().sentence).toMatch(/^Paused, because .* is kept\.$/);
  await at.session.resume();
  await recordFor(at, 600);
  await at.session.stop();
  expect(at.session.getSnapshot().pieces).toHaveLength(1);
  expect(at.session.getSnapshot().ms).toBeGreaterThanOrEqual(1200);
});

test('an unplugged microphone ends the take; the next one is a take of its own behind it', async () => {
  const ask = vi.spyOn(navigator.mediaDevices, 'getUserMedia');
  const at = await bench();
  await at.session.check();
  await at.session.start();
  await recordFor(at, 800);
  const stream = await (ask.mock.results.at(-1)?.value as Promise<MediaStream>);
  const [track] = stream.getAudioTracks();
  track?.stop();
  track?.dispatchEvent(new Event('ended'));
  await at.until(() => at.session.getSnapshot().pieces.length === 1);
  expect(at.session.getSnapshot()).toMatchObject({ phase: 'paused' });
  expect(at.session.getSnapshot().sentence).toContain('unplugged');
  await at.session.resume();
  expect(at.session.getSnapshot().phase).toBe('ready');
  await at.session.start();
  await recordFor(at, 600);
  await at.session.keep();
  const pieces = at.kept[0]?.recipe.pieces ?? [];
  expect(pieces).toHaveLength(2);
  expect(new Set(pieces.map((piece) => piece.segmentId)).size).toBe(2);
  expect(pieces[0]?.toMs).toBeGreaterThanOrEqual(800);
  for (const piece of pieces)
    expect(at.ofTake(piece.segmentId)[0]?.head.events[0]).toMatchObject({ t: 0, kind: 'scene' });
});

test('"again from here" cuts back and speaks on; cuts can be taken back', async () => {
  const back: number[] = [];
  const at = await bench({ onReturn: (scene) => back.push(scene.frame) });
  at.player.goTo(7);
  await at.until(() => at.player.getSnapshot().shownFrame === 7);
  await at.session.start('silent');
  await recordFor(at, 900);
  at.player.goTo(30);
  await recordFor(at, 600);
  await at.session.againFrom(700);
  expect(at.session.getSnapshot().phase).toBe('recording');
  expect(back).toEqual([7]);
  await recordFor(at, 600);
  await at.session.stop();
  const { pieces } = at.session.getSnapshot();
  expect(pieces).toMatchObject([{ fromMs: 0, toMs: 700 }, { fromMs: 0 }]);
  await at.session.removeStretch(200, 500);
  expect(at.session.getSnapshot().pieces).toHaveLength(3);
  await at.session.insertRemark({ id: crypto.randomUUID(), durationMs: 4000 }, 0);
  expect(at.session.getSnapshot().pieces[0]).toMatchObject({ kind: 'remark', toMs: 4000 });
  await at.session.undo();
  await at.session.undo();
  expect(at.session.getSnapshot().pieces).toEqual(pieces);
  expect(at.session.getSnapshot().canUndo).toBe(false);
});

test('written cues stand in a breakdown without a microphone', async () => {
  const at = await bench();
  await at.session.start('silent');
  at.session.setCaption('Turn behind the ball.');
  await recordFor(at, 600);
  await at.session.keep();
  const events = [...at.parts.values()].flatMap((part) => part.head.events);
  expect(events).toContainEqual(expect.objectContaining({ kind: 'caption', text: 'Turn behind the ball.' }));
  expect([...at.parts.values()][0]?.head).toMatchObject({ voiceType: '', voiceBytes: 0 });
  expect(at.begun[0]?.hasVoice).toBe(false);
});
