import { copyFile, mkdir, readFile } from 'node:fs/promises';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import { DERIVED_FILES } from '@/lib/domain/clips/prepared';
import type { ClipId } from '@/lib/domain/shared/ids';
import { createLocalStorage } from '@/lib/platform/storage-local';
import type { Queue, Storage } from '@/lib/workflows/ports';
import { prepareClip, type PreparePorts } from '@/lib/workflows/prepare-clip';
import { retryClip } from '@/lib/workflows/retry-clip';
import { buildClip, buildCoach, buildLesson, buildPlayer, buildProgram } from '../support/build';
import { makeClip } from '../support/media/make-clip';
import { openMediaBench } from '../support/media/prepared-clip';
import { viewerOf } from '../support/viewers';

const system = asSystem('worker');
const PLACE = '+40.6892-074.0445/';

let bench: Awaited<ReturnType<typeof openMediaBench>>;
let program: Awaited<ReturnType<typeof buildProgram>>;
let player: Awaited<ReturnType<typeof buildPlayer>>;
let lesson: Awaited<ReturnType<typeof buildLesson>>;
let storages = 0;

beforeAll(async () => {
  bench = await openMediaBench({ maxSeconds: 5 });
  program = await buildProgram();
  player = await buildPlayer(program);
  lesson = await buildLesson(program, player);
  await makeClip({
    path: bench.at('swing.mov'),
    width: 128,
    height: 72,
    frames: 12,
    location: PLACE,
    metadata: { 'com.android.capture.fps': '240' },
  });
});
afterAll(() => bench.close());

const silent = { info: () => {}, warn: () => {}, error: () => {} };
const newStorage = () => createLocalStorage(bench.at(`storage-${++storages}`));

const portsWith = (storage: Storage): PreparePorts => ({
  storage,
  engine: bench.engine,
  log: silent,
  clock: { now: () => new Date('2026-05-01T10:00:00Z') },
});

async function storedClip(storage: Storage, file = bench.at('swing.mov'), declaredType = 'video/quicktime') {
  const row = await buildClip(lesson, { state: 'uploaded', declaredType });
  const storageKey = `clips/${row.id}/original${path.extname(file)}`;
  await storage.put(storageKey, { path: file });
  await prisma.clip.update({ where: { id: row.id }, data: { storageKey } });
  return { id: row.id as ClipId, storageKey };
}
const rowOf = (id: string) => prisma.clip.findUniqueOrThrow({ where: { id } });
const filesOf = async (storage: Storage, id: string) =>
  (await storage.list(`clips/${id}`)).map((key) => path.basename(key));
const ALL = [...DERIVED_FILES, 'original.mov'].sort();

async function bytesOf(storage: Storage, key: string): Promise<Buffer> {
  const chunks: Buffer[] = [];
  for await (const chunk of (await storage.read(key))!) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks);
}

test('a stored clip becomes ready, with all that is derived from it and no place in the original', async () => {
  const storage = newStorage();
  const { id, storageKey } = await storedClip(storage);
  expect((await readFile(bench.at('swing.mov'))).includes(PLACE)).toBe(true);

  expect(await prepareClip(portsWith(storage), system, id)).toEqual({ state: 'ready' });

  expect(await rowOf(id)).toMatchObject({
    state: 'ready',
    progress: 100,
    width: 128,
    height: 72,
    frameCount: 12,
    fileRate: 30,
    captureRate: 240,
    rateIsSure: true,
    failCode: null,
    readyAt: new Date('2026-05-01T10:00:00Z'),
  });
  expect(await filesOf(storage, id)).toEqual(ALL);
  for (const key of await storage.list(`clips/${id}`))
    expect((await bytesOf(storage, key)).includes('40.6892'), key).toBe(false);
  expect((await bytesOf(storage, storageKey)).length).toBe((await readFile(bench.at('swing.mov'))).length);
  const audit = await prisma.auditEntry.findMany({ where: { subject: `clip:${id}` } });
  expect(audit.map(({ action }) => action)).toEqual(['clip.ready']);

  // Once more changes nothing.
  expect(await prepareClip(portsWith(storage), system, id)).toEqual({ state: 'nothing-to-do' });
  expect(await filesOf(storage, id)).toEqual(ALL);
});

test('killed at every call to the storage and run again, it ends ready with the same files', async () => {
  const counting = newStorage();
  let calls = 0;
  const watched = (storage: Storage, stopAt: number, onStop: () => void): Storage =>
    new Proxy(storage, {
      get: (target, name) => {
        const method = Reflect.get(target, name) as (...args: unknown[]) => unknown;
        return (...args: unknown[]) => {
          // A killed process neither goes on nor fails: the call never returns.
          if (++calls !== stopAt) return method.apply(target, args);
          onStop();
          return new Promise(() => {});
        };
      },
    });
  const first = await storedClip(counting);
  await prepareClip(portsWith(watched(counting, -1, () => {})), system, first.id);
  const total = calls;
  expect(total).toBeGreaterThan(6);

  for (let stopAt = 1; stopAt <= total; stopAt++) {
    const storage = newStorage();
    const { id } = await storedClip(storage);
    calls = 0;
    await new Promise<void>((resolve) => {
      void prepareClip(portsWith(watched(storage, stopAt, resolve)), system, id);
    });
    expect((await rowOf(id)).state).toBe('preparing');
    expect(await prepareClip(portsWith(storage), system, id)).toEqual({ state: 'ready' });
    expect(await filesOf(storage, id)).toEqual(ALL);
    // The rate stood in what was wiped by the killed run.
    expect(await rowOf(id)).toMatchObject({ captureRate: 240, rateIsSure: true });
  }
});

describe('a clip that is refused', () => {
  test('keeps its reason and nothing else', async () => {
    const storage = newStorage();
    const cut = bench.at('cut.mov');
    const whole = await readFile(bench.at('swing.mov'));
    await mkdir(path.dirname(cut), { recursive: true });
    await storage.put('clips/cut/scratch', { bytes: whole.subarray(0, whole.length - 500) });
    await copyFile(bench.at('storage-' + storages + '/clips/cut/scratch'), cut);
    const { id } = await storedClip(storage, cut);

    expect(await prepareClip(portsWith(storage), system, id)).toEqual({ state: 'failed', fault: 'cut-off' });
    expect(await rowOf(id)).toMatchObject({ state: 'failed', failCode: 'cut-off', storageKey: null });
    expect(await filesOf(storage, id)).toEqual([]);
    const viewer = await viewerOf(player, program);
    await expect(retryClip({ queue: noQueue }, viewer, id)).rejects.toMatchObject({ fault: 'wrong-state' });
  });

  test('for its length says so', async () => {
    const storage = newStorage();
    const long = await makeClip({
      path: bench.at('long.mov'),
      width: 64,
      height: 36,
      frames: 8,
      rate: { num: 1, den: 1 },
    });
    const { id } = await storedClip(storage, long.path);
    expect(await prepareClip(portsWith(storage), system, id)).toEqual({ state: 'failed', fault: 'too-long' });
    expect(await filesOf(storage, id)).toEqual([]);
  });
});

const noQueue: Queue = {
  prepareClip: async () => {},
  drainOutbox: async () => {},
  workOnBreakdown: async () => {},
  renderExport: async () => {},
  makeCopy: async () => {},
};

describe('a clip that failed for now', () => {
  const full = (storage: Storage): Storage => ({
    ...storage,
    put: (key, from) =>
      key.endsWith('poster.jpg')
        ? Promise.reject(Object.assign(new Error('no space left on device'), { code: 'ENOSPC' }))
        : storage.put(key, from),
  });

  test('because the disk is full: keeps the original, leaves nothing half-made, and the queue tries again', async () => {
    const storage = newStorage();
    const { id } = await storedClip(storage);
    await expect(prepareClip(portsWith(full(storage)), system, id)).rejects.toMatchObject({
      fault: 'unavailable',
    });
    expect(await rowOf(id)).toMatchObject({ state: 'failed', failCode: 'disk-full' });
    expect(await filesOf(storage, id)).toEqual(['original.mov']);
    expect(await prepareClip(portsWith(storage), system, id)).toEqual({ state: 'ready' });
    expect(await filesOf(storage, id)).toEqual(ALL);
  });

  test('can be tried again by its sender and by staff, once at a time, and by nobody else', async () => {
    const storage = newStorage();
    const { id } = await storedClip(storage);
    await prisma.clip.update({ where: { id }, data: { state: 'failed', failCode: 'unreadable' } });
    const asked: string[] = [];
    const queue: Queue = {
      ...noQueue,
      prepareClip: async (clipId) => {
        asked.push(clipId);
      },
    };
    const stranger = await buildPlayer(program);
    await expect(retryClip({ queue }, await viewerOf(stranger, program), id)).rejects.toMatchObject({
      fault: 'not-found',
    });
    const coach = await buildCoach(program);
    await retryClip({ queue }, await viewerOf(coach, program), id);
    await expect(retryClip({ queue }, await viewerOf(player, program), id)).rejects.toMatchObject({
      fault: 'wrong-state',
    });
    expect(asked).toEqual([id]);
    expect(await prepareClip(portsWith(storage), system, id)).toEqual({ state: 'ready' });
  });
});

test('a clip that was removed while it was prepared leaves nothing behind', async () => {
  const storage = newStorage();
  const { id } = await storedClip(storage);
  const removing: Storage = {
    ...storage,
    put: async (key, from) => {
      await storage.put(key, from);
      if (!key.endsWith('frames.json')) return;
      await prisma.clip.update({ where: { id }, data: { removedAt: new Date() } });
      await storage.remove(`clips/${id}`);
    },
  };
  expect(await prepareClip(portsWith(removing), system, id)).toEqual({ state: 'nothing-to-do' });
  expect(await filesOf(storage, id)).toEqual([]);
});

test('an original whose places cannot be taken out is put aside', async () => {
  const storage = newStorage();
  const { id, storageKey } = await storedClip(storage);
  const ports = portsWith(storage);
  const engine: PreparePorts['engine'] = {
    workspace: ports.engine.workspace,
    prepare: async (job) => {
      const outcome = await ports.engine.prepare(job);
      return { ...outcome, original: { original: 'aside', taggedRate: null, focal35mm: 28 } };
    },
  };
  expect(await prepareClip({ ...ports, engine }, system, id)).toEqual({ state: 'ready' });
  expect(await rowOf(id)).toMatchObject({ storageKey: `clips/${id}/aside.mov`, focal35mm: 28 });
  expect(await storage.size(storageKey)).toBeNull();
});
