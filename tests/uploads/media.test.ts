import { createServer, type Server } from 'node:http';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import os from 'node:os';
import path from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { createStorage } from '@/lib/platform/storage';
import { readByteRange } from '@/lib/platform/uploads/byte-range';
import { readMediaUrl, signMediaUrl, type MediaFolder } from '@/lib/platform/uploads/media-url';
import { serveMedia } from '@/lib/platform/uploads/serve-media';
import { personOf } from './support/fake-claims';
import { ANNA, BERT } from './support/sender';

const KEY = 'k'.repeat(64);
const CLIP = '0197a000-0000-7000-8000-0000000000c1';
const BYTES = Buffer.from(Array.from({ length: 1000 }, (_, index) => index % 251));
let folder: string;
let server: Server;
let origin: string;
let readable: Set<string>;

beforeEach(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), 'media-'));
  readable = new Set([CLIP]);
  const storage = createStorage({ dataFolder: folder });
  await storage.put(`clips/${CLIP}/review.mp4`, { bytes: BYTES });
  await storage.put('private/notes.json', { bytes: Buffer.from('{}') });
  const log = { info: () => {}, warn: () => {}, error: () => {} };
  const may = async (_request: Request, address: { id: string }) => readable.has(address.id);
  const mayRead = { clips: may, breakdowns: may, remarks: may };
  const answer = serveMedia({ key: KEY, storage, personOf, mayRead, log });
  server = createServer((request, response) => void answer(request, response));
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterEach(async () => {
  server.closeAllConnections();
  server.close();
  await rm(folder, { recursive: true, force: true });
});

const signed = (
  of: Partial<{ folder: MediaFolder; id: string; file: string; personId: string; now: Date }> = {},
) =>
  origin +
  signMediaUrl(KEY, {
    folder: 'clips',
    id: CLIP,
    file: 'review.mp4',
    personId: ANNA,
    now: new Date(),
    ...of,
  });
const get = (url: string, headers: Record<string, string> = {}, method = 'GET') =>
  fetch(url, { method, headers: { cookie: `person=${ANNA}`, ...headers } });

test('the whole file, with headers that keep it out of every shared cache', async () => {
  const answer = await get(signed());
  expect(answer.status).toBe(200);
  expect(Object.fromEntries(answer.headers)).toMatchObject({
    'content-type': 'video/mp4',
    'content-length': '1000',
    'accept-ranges': 'bytes',
    'cache-control': 'private, no-store',
    'x-content-type-options': 'nosniff',
    'cross-origin-resource-policy': 'same-origin',
  });
  expect(Buffer.from(await answer.arrayBuffer()).equals(BYTES)).toBe(true);
});

// Cases of RFC 9110, section 14.
test.each([
  ['bytes=0-99', 206, 'bytes 0-99/1000', 100],
  ['bytes=990-', 206, 'bytes 990-999/1000', 10],
  ['bytes=-10', 206, 'bytes 990-999/1000', 10],
  ['bytes=-5000', 206, 'bytes 0-999/1000', 1000],
  ['bytes=900-5000', 206, 'bytes 900-999/1000', 100],
  ['bytes=0-0', 206, 'bytes 0-0/1000', 1],
  ['bytes=1000-', 416, 'bytes */1000', 0],
  ['bytes=-0', 416, 'bytes */1000', 0],
  ['bytes=5-2', 200, null, 1000],
  ['bytes=0-1,4-5', 200, null, 1000],
  ['items=0-5', 200, null, 1000],
])('Range %s answers %i', async (range, status, contentRange, length) => {
  const answer = await get(signed(), { range });
  const body = Buffer.from(await answer.arrayBuffer());
  expect(answer.status).toBe(status);
  expect(answer.headers.get('content-range')).toBe(contentRange);
  expect(answer.headers.get('content-length')).toBe(String(length));
  expect(body).toHaveLength(length);
  const start = Number(/bytes (\d+)-/.exec(contentRange ?? '')?.[1] ?? 0);
  if (status === 206) expect(body.equals(BYTES.subarray(start, start + length))).toBe(true);
});

test('HEAD tells the size and sends nothing', async () => {
  const answer = await get(signed(), {}, 'HEAD');
  expect(answer.headers.get('content-length')).toBe('1000');
  expect(await answer.text()).toBe('');
  expect((await get(signed(), {}, 'POST')).status).toBe(405);
});

test('only the person it was signed for, signed in, and while the clip is theirs to see', async () => {
  expect((await fetch(signed())).status).toBe(401);
  expect((await get(signed(), { cookie: `person=${BERT}` })).status).toBe(404);
  expect((await get(signed({ personId: BERT }))).status).toBe(404);
  readable.clear();
  expect((await get(signed())).status).toBe(404);
});

test('tampered, expired and absent look the same', async () => {
  const url = signed();
  const old = signed({ now: new Date(Date.now() - 4 * 3600 * 1000) });
  const bodies = new Set<string>();
  for (const bad of [
    url.replace('review.mp4', 'original.mov'),
    url.replace(CLIP, ANNA),
    url.replace('/clips/', '/breakdowns/'),
    url.replace(/exp=\d/, 'exp=9'),
    url.replace(/.$/, (last) => (last === '0' ? '1' : '0')),
    url.split('?')[0]!,
    old,
    signed({ file: 'none.jpg' }),
  ]) {
    const answer = await get(bad);
    expect(answer.status).toBe(404);
    bodies.add(await answer.text());
  }
  expect(bodies.size).toBe(1);
});

test('no signed name leads out of the clip', async () => {
  for (const file of ['../../private/notes.json', '..', '.hidden']) {
    const answer = await get(signed({ file }));
    expect([400, 404]).toContain(answer.status);
  }
});

test('an address lives between three hours and three hours and a quarter, and is the same within a quarter', () => {
  const of = { folder: 'clips', id: CLIP, file: 'review.mp4', personId: ANNA } as const;
  const quarter = 15 * 60 * 1000;
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 4e12 }), (at) => {
      const url = signMediaUrl(KEY, { ...of, now: new Date(at) });
      const isAlive = (after: number) => readMediaUrl(KEY, url, new Date(at + after)) !== null;
      expect(isAlive(3 * 3600 * 1000 - 1)).toBe(true);
      expect(isAlive(3 * 3600 * 1000 + quarter)).toBe(false);
      const start = Math.floor(at / quarter) * quarter + 1;
      expect(signMediaUrl(KEY, { ...of, now: new Date(start) })).toBe(
        signMediaUrl(KEY, { ...of, now: new Date(start + quarter - 1) }),
      );
    }),
  );
});

test('every readable range lies inside the file', () => {
  const number = fc.oneof(fc.constant(''), fc.nat({ max: 2000 }).map(String));
  fc.assert(
    fc.property(number, number, fc.nat({ max: 1500 }), (first, last, size) => {
      const range = readByteRange(`bytes=${first}-${last}`, size);
      if (range === null || range === 'unsatisfiable') return;
      expect(range.start).toBeGreaterThanOrEqual(0);
      expect(range.start).toBeLessThanOrEqual(range.end);
      expect(range.end).toBeLessThan(size);
    }),
  );
});
