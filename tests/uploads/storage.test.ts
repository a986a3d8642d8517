import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { createStorage } from '@/lib/platform/storage';
import { checkedKey } from '@/lib/platform/storage-keys';
import type { Storage } from '@/lib/workflows/ports';
import { HOSTED_TOKEN, HostedStandIn } from './support/hosted-stand-in';

// The SDK warns of its own use of an old field whenever a server sends a file.
beforeEach(() => {
  vi.spyOn(console, 'warn').mockImplementation(() => {});
});

const text = async (storage: Storage, key: string, range?: { start: number; end: number }) => {
  const stream = await storage.read(key, range);
  return stream && Buffer.concat(await stream.toArray()).toString();
};

describe.each(['local', 'hosted'] as const)('%s storage', (kind) => {
  let folder: string;
  let storage: Storage;
  let standIn: HostedStandIn;
  beforeEach(async () => {
    folder = await mkdtemp(path.join(os.tmpdir(), 'storage-'));
    standIn = new HostedStandIn();
    const hosted = { uploadthingToken: HOSTED_TOKEN, fetch: standIn.fetch };
    storage = createStorage({ dataFolder: folder, ...(kind === 'hosted' && hosted) });
  });
  afterEach(() => rm(folder, { recursive: true, force: true }));

  test('keeps bytes and files, and reads them whole or in part', async () => {
    const file = path.join(folder, 'source');
    await writeFile(file, 'from a file');
    await storage.put('clips/a/review.mp4', { path: file });
    await storage.put('clips/a/poster.jpg', { bytes: Buffer.from('0123456789') });
    expect(await text(storage, 'clips/a/review.mp4')).toBe('from a file');
    expect(await text(storage, 'clips/a/poster.jpg', { start: 2, end: 4 })).toBe('234');
    expect(await storage.size('clips/a/poster.jpg')).toBe(10);
    expect((await readFile(file)).toString()).toBe('from a file');
  });

  test('replaces a key whole', async () => {
    await storage.put('clips/a/frames.json', { bytes: Buffer.from('a longer first version') });
    await storage.put('clips/a/frames.json', { bytes: Buffer.from('second') });
    expect(await text(storage, 'clips/a/frames.json')).toBe('second');
    expect(await storage.list('clips/a')).toEqual(['clips/a/frames.json']);
  });

  test('absent is null, not an error', async () => {
    expect(await storage.read('clips/a/none.mp4')).toBeNull();
    expect(await storage.size('clips/a/none.mp4')).toBeNull();
    expect(await storage.list('clips/none')).toEqual([]);
    await storage.remove('clips/none');
  });

  test('lists and removes by whole folder names only', async () => {
    for (const key of ['clips/a/2.jpg', 'clips/a/1.jpg', 'clips/ab/1.jpg'])
      await storage.put(key, { bytes: Buffer.from(key) });
    expect(await storage.list('clips/a')).toEqual(['clips/a/1.jpg', 'clips/a/2.jpg']);
    await storage.remove('clips/a/');
    expect(await storage.list('')).toEqual(['clips/ab/1.jpg']);
  });

  test('gives the engine a path of this machine until it is released', async () => {
    await storage.put('clips/a/original.mov', { bytes: Buffer.from('picture') });
    const local = await storage.local('clips/a/original.mov');
    expect((await readFile(local.path)).toString()).toBe('picture');
    await local.release();
    expect(await text(storage, 'clips/a/original.mov')).toBe('picture');
    await expect(storage.local('clips/a/none.mov')).rejects.toThrow();
  });

  test('refuses to remove everything', async () => {
    await expect(storage.remove('')).rejects.toThrow();
  });
});

test('a write that fails leaves the old file and no half one', async () => {
  const folder = await mkdtemp(path.join(os.tmpdir(), 'storage-'));
  const storage = createStorage({ dataFolder: folder });
  await storage.put('clips/a/review.mp4', { bytes: Buffer.from('old') });
  await expect(storage.put('clips/a/review.mp4', { path: path.join(folder, 'absent') })).rejects.toThrow();
  expect(await readdir(path.join(folder, 'storage/clips/a'))).toEqual(['review.mp4']);
  expect(await text(storage, 'clips/a/review.mp4')).toBe('old');
  await rm(folder, { recursive: true });
});

test('files at the hosted service are private, and read with an address signed for a minute', async () => {
  const standIn = new HostedStandIn();
  const storage = createStorage({
    dataFolder: os.tmpdir(),
    uploadthingToken: HOSTED_TOKEN,
    fetch: standIn.fetch,
  });
  await storage.put('clips/a/review.mp4', { bytes: Buffer.from('0123456789') });
  expect([...standIn.files.values()]).toMatchObject([{ customId: 'clips/a/review.mp4', acl: 'private' }]);
  await text(storage, 'clips/a/review.mp4', { start: 0, end: 3 });
  const [read] = standIn.reads;
  expect(read?.range).toBe('bytes=0-3');
  const left = Number(new URL(read!.url).searchParams.get('expires')) - Date.now();
  expect(left).toBeGreaterThan(0);
  expect(left).toBeLessThanOrEqual(60_000);
});

test('what another process wrote at the hosted service is found', async () => {
  const standIn = new HostedStandIn();
  const make = () =>
    createStorage({ dataFolder: os.tmpdir(), uploadthingToken: HOSTED_TOKEN, fetch: standIn.fetch });
  const [web, worker] = [make(), make()];
  expect(await web.size('clips/a/review.mp4')).toBeNull();
  await worker.put('clips/a/review.mp4', { bytes: Buffer.from('first') });
  expect(await text(web, 'clips/a/review.mp4')).toBe('first');
  await worker.put('clips/a/review.mp4', { bytes: Buffer.from('second') });
  expect(await text(web, 'clips/a/review.mp4')).toBe('second');
});

test('no key leads out of the folder', () => {
  const segment = fc.oneof(
    fc.constantFrom('..', '.', '', 'a', 'clips', '.hidden', 'a b', 'a\\b', '%2e', 'a\0'),
    fc.string(),
  );
  fc.assert(
    fc.property(fc.array(segment, { maxLength: 5 }), (segments) => {
      const key = segments.join('/');
      let checked: string;
      try {
        checked = checkedKey(key);
      } catch {
        return true;
      }
      const full = path.resolve('/data/storage', checked);
      return full.startsWith('/data/storage/') && full === `/data/storage/${key}`;
    }),
  );
});
