import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { openFileStore, type FileStore } from '@/lib/review/upload/file-store';
import type { Patience } from '@/lib/review/upload/patience';
import { SendFailure, type SendClip } from '@/lib/review/upload/send-clip';
import { createUploadQueue, type UploadQueue } from '@/lib/review/upload/upload-queue';

const PATIENCE: Patience = { stallMs: 300, answerMs: 300, firstWaitMs: 5, longestWaitMs: 20 };
const lessonId = 'lesson';
let store: FileStore;
let queues: UploadQueue[];
let calls: {
  clipId: string;
  size: number;
  settle: (error?: Error) => void;
  progress: (bytes: number) => void;
}[];

/** A host that the test plays itself: each try waits until it is settled or given up. */
const send: SendClip = (file, { clipId, signal, onProgress }) =>
  new Promise((resolve, reject) => {
    signal.addEventListener('abort', () => reject(signal.reason as Error));
    const settle = (error?: Error) => (error ? reject(error) : resolve());
    calls.push({ clipId, size: file.size, settle, progress: onProgress });
  });

const begin = (personId = 'anna', more: Partial<Parameters<typeof createUploadQueue>[0]> = {}) => {
  const queue = createUploadQueue({ personId, send, store, patience: PATIENCE, ...more });
  queues.push(queue);
  return queue;
};
const file = (size = 1000, name = 'swing.mov') =>
  new File([new Uint8Array(size)], name, { type: 'video/quicktime' });
const entryOf = (queue: UploadQueue, clipId: string) =>
  queue.getSnapshot().entries.find((entry) => entry.clipId === clipId);
const stateOf = (queue: UploadQueue, clipId: string) => entryOf(queue, clipId)?.state;
/** The try of that number for a clip, once it is made. */
const callOf = (clipId: string, number = 0) =>
  vi.waitFor(() => {
    const call = calls.filter((one) => one.clipId === clipId)[number];
    if (!call) throw new Error('No such try yet');
    return call;
  });
const callsOf = (clipId: string) => calls.filter((call) => call.clipId === clipId);

beforeEach(() => {
  store = openFileStore(`test-${crypto.randomUUID()}`);
  queues = [];
  calls = [];
});
afterEach(() => {
  for (const queue of queues) queue.dispose();
  store.close();
});

test('a clip is uploading, then stored, and its safety copy goes', async () => {
  const queue = begin();
  const clipId = crypto.randomUUID();
  await queue.add(file(), { clipId, lessonId });
  await vi.waitFor(() => expect(entryOf(queue, clipId)?.safetyCopy).toBe('kept'));
  expect(stateOf(queue, clipId)).toBe('uploading');
  (await callOf(clipId)).progress(400);
  expect(entryOf(queue, clipId)?.sentBytes).toBe(400);
  (await callOf(clipId)).settle();
  await vi.waitFor(() => expect(stateOf(queue, clipId)).toBe('stored'));
  await vi.waitFor(async () => expect(await store.all('anna')).toEqual([]));
});

test('a page that opens later carries on without picking the file again; another person does not', async () => {
  const first = begin();
  const clipId = crypto.randomUUID();
  await first.add(file(1234), { clipId, lessonId });
  await vi.waitFor(() => expect(entryOf(first, clipId)?.safetyCopy).toBe('kept'));
  await callOf(clipId);
  first.dispose();
  expect(await begin('bert').restore()).toBe(0);
  const second = begin();
  expect(await second.restore()).toBe(1);
  await vi.waitFor(() => expect(callsOf(clipId)).toHaveLength(2));
  expect(callsOf(clipId)[1]?.size).toBe(1234);
  expect(entryOf(second, clipId)).toMatchObject({ fileName: 'swing.mov', safetyCopy: 'kept' });
});

test('a try that fails without a reason is made again by itself, and a stalled one too', async () => {
  const queue = begin();
  const clipId = crypto.randomUUID();
  await queue.add(file(), { clipId, lessonId });
  (await callOf(clipId)).settle(new SendFailure(null, 'network'));
  await vi.waitFor(() => expect(callsOf(clipId)).toHaveLength(2));
  // The second try stays silent: the watchdog ends it.
  await vi.waitFor(() => expect(callsOf(clipId)).toHaveLength(3), 3000);
  (await callOf(clipId, 2)).settle();
  await vi.waitFor(() => expect(stateOf(queue, clipId)).toBe('stored'));
});

test('the way back online cuts the wait short', async () => {
  const queue = begin('anna', { patience: { ...PATIENCE, firstWaitMs: 60_000, longestWaitMs: 60_000 } });
  const clipId = crypto.randomUUID();
  await queue.add(file(), { clipId, lessonId });
  (await callOf(clipId)).settle(new SendFailure(null, 'network'));
  await vi.waitFor(() => expect(stateOf(queue, clipId)).toBe('retrying'));
  dispatchEvent(new Event('online'));
  await vi.waitFor(() => expect(callsOf(clipId)).toHaveLength(2));
});

test('a refused clip says why and offers no retry; a full disk does', async () => {
  const queue = begin();
  const [bad, unlucky] = [crypto.randomUUID(), crypto.randomUUID()];
  await queue.add(file(), { clipId: bad, lessonId });
  await queue.add(file(), { clipId: unlucky, lessonId });
  (await callOf(bad)).settle(new SendFailure('not-a-video', 'refused'));
  (await callOf(unlucky)).settle(new SendFailure('disk-full', 'refused'));
  await vi.waitFor(() => expect(stateOf(queue, unlucky)).toBe('failed'));
  expect(entryOf(queue, bad)).toMatchObject({ state: 'failed', fault: 'not-a-video', canRetry: false });
  expect(entryOf(queue, bad)?.sentence).toMatch(/not a video/);
  expect(entryOf(queue, unlucky)).toMatchObject({ canRetry: true });
  queue.retry(unlucky);
  await vi.waitFor(() => expect(callsOf(unlucky)).toHaveLength(2));
});

test('a clip that keeps failing holds up nobody', async () => {
  const queue = begin('anna', { atOnce: 1 });
  const ids = Array.from({ length: 4 }, () => crypto.randomUUID());
  for (const clipId of ids) await queue.add(file(), { clipId, lessonId });
  (await callOf(ids[0]!)).settle(new SendFailure(null, 'network'));
  for (const clipId of ids.slice(1)) {
    await vi.waitFor(() => expect(callsOf(clipId)).toHaveLength(1));
    (await callOf(clipId)).settle();
  }
  await vi.waitFor(() => expect(ids.slice(1).every((id) => stateOf(queue, id) === 'stored')).toBe(true));
});

test('a lesson takes four clips', async () => {
  const queue = begin();
  for (let n = 0; n < 4; n++) await queue.add(file(), { clipId: crypto.randomUUID(), lessonId });
  await expect(queue.add(file(), { clipId: crypto.randomUUID(), lessonId })).rejects.toThrow('too-many');
  await queue.add(file(), { clipId: crypto.randomUUID(), lessonId: 'another' });
});

test('paused stays paused, also on the next page, until resumed', async () => {
  const queue = begin();
  const clipId = crypto.randomUUID();
  await queue.add(file(), { clipId, lessonId });
  await vi.waitFor(() => expect(entryOf(queue, clipId)?.safetyCopy).toBe('kept'));
  await callOf(clipId);
  queue.pause(clipId);
  expect(stateOf(queue, clipId)).toBe('paused');
  await vi.waitFor(async () => expect((await store.get(clipId))?.isPaused).toBe(true));
  queue.dispose();
  const next = begin();
  await next.restore();
  expect(stateOf(next, clipId)).toBe('paused');
  next.resume(clipId);
  await vi.waitFor(() => expect(callsOf(clipId)).toHaveLength(2));
});

test('a removed clip is forgotten, its safety copy too', async () => {
  const queue = begin();
  const clipId = crypto.randomUUID();
  await queue.add(file(), { clipId, lessonId });
  await queue.remove(clipId);
  expect(queue.getSnapshot().entries).toEqual([]);
  await vi.waitFor(async () => expect(await store.get(clipId)).toBeNull());
});

test('without room for the safety copy it says so and sends all the same', async () => {
  const queue = begin('anna', { store: { ...store, put: async () => 'full' } });
  const clipId = crypto.randomUUID();
  await queue.add(file(), { clipId, lessonId });
  await vi.waitFor(() => expect(entryOf(queue, clipId)?.safetyCopy).toBe('full'));
  (await callOf(clipId)).settle();
  await vi.waitFor(() => expect(stateOf(queue, clipId)).toBe('stored'));
});

test('two pages of one person: one sends at a time', async () => {
  const [first, second] = [begin(), begin()];
  const clipId = crypto.randomUUID();
  await first.add(file(), { clipId, lessonId });
  await vi.waitFor(() => expect(entryOf(first, clipId)?.safetyCopy).toBe('kept'));
  await second.restore();
  expect(stateOf(second, clipId)).toBe('uploading');
  await callOf(clipId);
  expect(callsOf(clipId)).toHaveLength(1);
  first.dispose();
  await vi.waitFor(() => expect(callsOf(clipId)).toHaveLength(2));
});

test('the pace tells bytes a second and the time that is left', async () => {
  let at = 0;
  const queue = begin('anna', { now: () => at });
  const clipId = crypto.randomUUID();
  await queue.add(file(10_000), { clipId, lessonId });
  (await callOf(clipId)).progress(0);
  at = 2000;
  (await callOf(clipId)).progress(4000);
  expect(entryOf(queue, clipId)).toMatchObject({ bytesPerSecond: 2000, secondsLeft: 3 });
});
