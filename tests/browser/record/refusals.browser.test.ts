import { afterEach, expect, test, vi } from 'vitest';
import { MAX_BREAKDOWN_MS } from '@/lib/domain/breakdowns/event';
import { micFaultOf } from '@/lib/review/record/mic';
import { PartFailure } from '@/lib/review/record/part-sender';
import { openTakeStore, type TakeStore } from '@/lib/review/record/take-store';
import { openBench } from './bench-of';

type Bench = Awaited<ReturnType<typeof openBench>>;
const benches: Bench[] = [];
const bench = async (more?: Parameters<typeof openBench>[0]) => {
  const opened = await openBench(more);
  benches.push(opened);
  return opened;
};
afterEach(async () => {
  vi.restoreAllMocks();
  for (const each of benches.splice(0)) each.close();
  // The lock of a session is let go once its last slice is written.
  await vi.waitFor(async () => {
    const { held } = await navigator.locks.query();
    expect(held?.filter((lock) => lock.name?.startsWith('cagepost-record'))).toEqual([]);
  });
});

// The names are those of Media Capture and Streams (W3C), `getUserMedia`.
test.each([
  ['NotAllowedError', 'denied', /Allow it beside the address/],
  ['NotFoundError', 'no-device', /No microphone was found/],
  ['OverconstrainedError', 'no-device', /No microphone was found/],
  ['NotReadableError', 'in-use', /another program may be using it/],
  ['TypeError', 'unsupported', /cannot record sound/],
] as const)(
  'a microphone refused with %s is said in words, and the silent way stays open',
  async (name, fault, words) => {
    const at = await bench();
    vi.spyOn(navigator.mediaDevices, 'getUserMedia').mockRejectedValue(new DOMException('no', name));
    await at.session.check();
    expect(at.session.getSnapshot()).toMatchObject({ phase: 'fault', fault });
    expect(at.session.getSnapshot().sentence).toMatch(words);
    await at.session.start('silent');
    expect(at.session.getSnapshot()).toMatchObject({ phase: 'recording', kind: 'silent' });
  },
);

test('an error that is none of these is not taken for a refusal by the coach', () => {
  expect(micFaultOf('what?')).toBe('unsupported');
});

test('a browser without a recorder for speech says so', async () => {
  const at = await bench();
  await at.session.check();
  vi.spyOn(MediaRecorder, 'isTypeSupported').mockReturnValue(false);
  await at.session.start();
  expect(at.session.getSnapshot()).toMatchObject({ phase: 'fault', fault: 'unsupported' });
});

test('a second tab on the same lesson is turned away, and let in once the first is done', async () => {
  const [first, second] = [await bench(), await bench()];
  await first.session.start('silent');
  await second.session.check();
  expect(second.session.getSnapshot()).toMatchObject({ phase: 'fault', fault: 'other-tab' });
  expect(second.session.getSnapshot().sentence).toContain('another tab');
  expect(await second.session.recover()).toEqual([]);
  await first.session.discard();
  await vi.waitFor(async () => {
    await second.session.check();
    expect(second.session.getSnapshot().phase).toBe('ready');
  });
});

test('a full browser is told and loses nothing: the take goes to the server all the same', async () => {
  const real = openTakeStore(`test-${crypto.randomUUID()}`);
  const store: TakeStore = { ...real, append: () => Promise.resolve('full') };
  const at = await bench({ store });
  await at.session.start('silent');
  await at.until(() => at.session.getSnapshot().ms > 1200);
  expect(at.session.getSnapshot().warning).toContain('no room left');
  expect(at.session.getSnapshot().phase).toBe('recording');
  await at.session.keep();
  expect(at.session.getSnapshot().phase).toBe('kept');
  expect([...at.parts.values()][0]?.head.toMs).toBeGreaterThan(1200);
});

test('the store itself answers "full" when the browser refuses to write', async () => {
  const store = openTakeStore(`test-${crypto.randomUUID()}`);
  vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
    throw new DOMException('no room', 'QuotaExceededError');
  });
  const slice = { number: 0, fromMs: 0, toMs: 500, voice: null, events: [] };
  const ids = { segmentId: crypto.randomUUID(), breakdownId: crypto.randomUUID() };
  expect(await store.append({ ...slice, ...ids })).toBe('full');
});

test('ten minutes end the take, with a warning a minute before, and all of it is kept', async () => {
  let ahead = 0;
  const real = performance.now.bind(performance);
  vi.spyOn(performance, 'now').mockImplementation(() => real() + ahead);
  const at = await bench();
  await at.session.start('silent');
  await at.until(() => at.session.getSnapshot().ms > 300);
  expect(at.session.getSnapshot().warning).toBeNull();
  ahead = MAX_BREAKDOWN_MS - 50_000;
  await at.until(() => at.session.getSnapshot().warning !== null);
  expect(at.session.getSnapshot().warning).toContain('One minute is left');
  ahead = MAX_BREAKDOWN_MS;
  await at.until(() => at.session.getSnapshot().phase === 'stopped');
  await at.until(() => at.session.getSnapshot().sentence !== null);
  expect(at.session.getSnapshot().sentence).toContain('All of it is kept');
  expect(at.session.getSnapshot().ms).toBeLessThanOrEqual(MAX_BREAKDOWN_MS);
  await at.session.keep();
  expect(at.kept).toHaveLength(1);
});

test('nothing recorded is nothing kept', async () => {
  const at = await bench({ countdownMs: 0 });
  await at.session.start('silent');
  await at.session.stop();
  await at.session.cutBackTo(0);
  await at.session.keep();
  expect(at.kept).toEqual([]);
  expect(at.session.getSnapshot()).toMatchObject({ phase: 'stopped', fault: 'too-short' });
});

test('a guardian’s pause stops the sending with a sentence; the take stays in this browser', async () => {
  const at = await bench({
    send: () => Promise.reject(new PartFailure('paused-by')),
  });
  await at.session.start('silent');
  await at.until(() => at.session.getSnapshot().ms > 600);
  await at.session.keep();
  expect(at.session.getSnapshot()).toMatchObject({ phase: 'stopped', trouble: 'paused-by' });
  expect(at.session.getSnapshot().sentence).toContain('guardian');
  expect(await at.store.find('lesson', 'coach')).toHaveLength(1);
});

test('parts that the server lost are sent again before it is kept', async () => {
  const at = await bench();
  await at.session.start('silent');
  await at.until(() => at.session.getSnapshot().ms > 600);
  await at.session.stop();
  await at.until(() => at.session.getSnapshot().partsSent === 1);
  const segmentId = at.session.getSnapshot().pieces[0]?.segmentId ?? '';
  at.parts.clear();
  at.answers.push({ is: 'missing', missing: [{ segmentId, numbers: [0] }] });
  await at.session.keep();
  expect(at.session.getSnapshot().phase).toBe('kept');
  expect(at.ofTake(segmentId)).toHaveLength(1);
  expect(at.kept).toHaveLength(2);
});

test('a refused breakdown says why and is still here', async () => {
  const at = await bench();
  at.answers.push({ is: 'refused', sentence: 'This lesson is with another coach.' });
  await at.session.start('silent');
  await at.until(() => at.session.getSnapshot().ms > 600);
  await at.session.keep();
  expect(at.session.getSnapshot()).toMatchObject({
    phase: 'stopped',
    sentence: 'This lesson is with another coach.',
  });
  expect(at.session.getSnapshot().pieces).toHaveLength(1);
});

test('what a closed page left is offered to its owner only, goes on, and goes once the server has it joined', async () => {
  const store = openTakeStore(`test-${crypto.randomUUID()}`);
  const first = await bench({ store });
  await first.session.start('silent');
  await first.until(() => first.session.getSnapshot().ms > 1100);
  first.session.dispose();
  const stranger = await bench({ store, personId: 'somebody else' });
  expect(await stranger.session.recover()).toEqual([]);
  const next = await bench({ store });
  await vi.waitFor(async () => expect(await next.session.recover()).toHaveLength(1));
  const [left] = await next.session.recover();
  if (!left) throw new Error('Nothing is offered');
  expect(left.ms).toBeGreaterThan(1000);
  await next.session.takeUp(left.breakdownId);
  expect(next.session.getSnapshot()).toMatchObject({ phase: 'stopped', breakdownId: left.breakdownId });
  await next.session.keep();
  expect(next.kept[0]?.recipe.pieces).toHaveLength(1);
  expect(await next.session.recover()).toEqual([]);
  await next.session.tidy([{ id: left.breakdownId, state: 'failed', givenAt: null }]);
  expect(await next.session.recover()).toHaveLength(1);
  await store.put({ ...(await store.find('lesson', 'coach'))[0]!, isSent: true });
  // Joined, but not the player's yet: it is not offered as left behind, and can be cut or spoken on.
  await next.session.tidy([{ id: left.breakdownId, state: 'ready', givenAt: null }]);
  expect(await next.session.recover()).toEqual([]);
  expect(await next.session.copies()).toEqual([left.breakdownId]);
  await next.session.takeUp(left.breakdownId);
  expect(next.session.getSnapshot()).toMatchObject({ phase: 'stopped', breakdownId: left.breakdownId });
  await next.session.keep();
  expect(next.kept).toHaveLength(2);
  await next.session.tidy([{ id: left.breakdownId, state: 'ready', givenAt: '2026-06-01T12:00:00.000Z' }]);
  expect(await store.find('lesson', 'coach')).toEqual([]);
});
