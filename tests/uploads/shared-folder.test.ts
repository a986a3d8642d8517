import { createHash } from 'node:crypto';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { startHost, type HostRig } from './support/hosts';
import { beginPut, movieBytes, offset, presign, put } from './support/sender';

// Two web servers that receive into one folder, as two machines over a shared disk do.

let [a, b] = [] as unknown as [HostRig, HostRig];
beforeEach(async () => {
  a = await startHost('embedded', { isShared: true });
  b = await startHost('embedded', { isShared: true, dataFolder: a.folder });
});
afterEach(async () => {
  await b.close();
  await a.close();
});

const PATIENTLY = { timeout: 20_000, interval: 20 };
const md5 = (bytes: Uint8Array) => createHash('md5').update(bytes).digest('hex');
const at = (rig: HostRig, url: string) => url.replace(a.origin, rig.origin);

/** As the phone does: asks how much is there and sends the rest, again when another try got further meanwhile. */
const goOn = async (url: string, bytes: Buffer) => {
  for (;;) {
    const from = await offset(url);
    const answer = await put(url, bytes.subarray(from), { from });
    if (answer.status !== 409) return answer;
  }
};

test('an upload that was claimed at one is received by the other', async () => {
  const bytes = movieBytes(300_000);
  const { url } = await presign(a.origin, { size: bytes.length });
  const answer = await put(at(b, url), bytes);
  expect(answer).toMatchObject({ status: 200, body: { fileHash: md5(bytes) } });
  expect(await put(url, bytes)).toMatchObject({ status: 200, body: { fileHash: md5(bytes) } });
});

test('a connection that died at one and is not known to have does not spoil what goes on at the other', async () => {
  const bytes = movieBytes(600_000);
  const { url, clipId } = await presign(a.origin, { size: bytes.length });
  const dead = await beginPut(url, bytes, 250_000);
  await vi.waitUntil(async () => (await offset(at(b, url))) === 250_000, PATIENTLY);
  // What was still on its way to the first one arrives while the second one receives, and after it has all.
  const answer = goOn(at(b, url), bytes);
  dead.request.write(bytes.subarray(250_000, 400_000));
  expect(await answer).toMatchObject({ status: 200, body: { fileHash: md5(bytes) } });
  dead.request.write(bytes.subarray(400_000));
  await dead.cut();
  const kept = await b.storage.read(`clips/${clipId}/original.mov`);
  expect(md5(Buffer.concat(await kept!.toArray()))).toBe(md5(bytes));
});

test('one that has all of its bytes after another has finished hears that, and keeps nothing', async () => {
  const bytes = movieBytes(300_000);
  const { url, clipId } = await presign(a.origin, { size: bytes.length });
  const slow = await beginPut(url, bytes, 100_000);
  await vi.waitUntil(async () => (await offset(at(b, url))) === 100_000, PATIENTLY);
  const rest = await put(at(b, url), bytes.subarray(100_000), { from: 100_000 });
  expect(rest).toMatchObject({ status: 200, body: { fileHash: md5(bytes) } });
  const status = new Promise((resolve) =>
    slow.request.once('response', (answer) => resolve(answer.statusCode)),
  );
  slow.request.write(bytes.subarray(100_000));
  slow.request.end('\r\n--cut--\r\n');
  expect(await status).toBe(409);
  const kept = await b.storage.read(`clips/${clipId}/original.mov`);
  expect(md5(Buffer.concat(await kept!.toArray()))).toBe(md5(bytes));
  expect(await offset(url)).toBe(bytes.length);
});

test('a sweep leaves alone what another one may be at, and takes it up later', async () => {
  const bytes = movieBytes(300_000);
  const { url } = await presign(a.origin, { size: bytes.length });
  b.claims.storedThrows.push(new Error('the database was away'));
  expect((await put(at(b, url), bytes)).status).toBeGreaterThanOrEqual(500);
  expect((await a.uploads.sweep()).completed).toEqual([]);
  const later = await a.restart({ now: () => new Date(Date.now() + 61_000) });
  expect((await later.sweep()).completed).toHaveLength(1);
});
