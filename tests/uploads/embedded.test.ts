import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { readdir, readFile, rename, rm, stat, utimes, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { generateSignedURL, signPayload } from '@uploadthing/shared';
import * as Micro from 'effect/Micro';
import * as Redacted from 'effect/Redacted';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { deriveKey, signText } from '@/lib/platform/uploads/signatures';
import { SECRET, startHost, type HostRig } from './support/hosts';
import { beginPut, BERT, faultOf, movieBytes, offset, presign, put } from './support/sender';

let rig: HostRig;
beforeEach(async () => {
  rig = await startHost('embedded');
});
afterEach(() => rig.close());

const md5 = (bytes: Uint8Array) => createHash('md5').update(bytes).digest('hex');
const record = (clipId: string) => path.join(rig.folder, 'uploads', `${clipId}.json`);
const part = (clipId: string) => path.join(rig.folder, 'uploads', `${clipId}.part`);
const original = (clipId: string) => path.join(rig.folder, 'storage/clips', clipId, 'original.mov');
const leftovers = () => readdir(path.join(rig.folder, 'uploads'));

test('what is signed is what the SDK signs', async () => {
  const { url } = await presign(rig.origin, { size: 1000 });
  const key = `sk_live_${deriveKey(SECRET, 'uploads/key')}`;
  const [head = '', signature = ''] = url.replace(rig.origin, 'http://embedded.invalid').split('&signature=');
  const bySdk = await Micro.runPromise(signPayload(head, Redacted.make(key)));
  expect(decodeURIComponent(signature)).toBe(bySdk);
  expect(signText(head, key)).toBe(bySdk);
});

test('an address without an origin, so that it fits any name of this server', async () => {
  const answer = await fetch(`${rig.origin}/api/uploadthing?actionType=upload&slug=clip`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', cookie: 'person=p' },
    body: JSON.stringify({
      files: [{ name: 'a', size: 5, type: 'video/mp4' }],
      input: { clipId: crypto.randomUUID() },
    }),
  });
  const [presigned] = (await answer.json()) as { url: string }[];
  expect(presigned?.url).toMatch(/^\/api\/ingest\/[^/?]+\?expires=/);
});

test('a cut upload goes on from the byte where it was cut', async () => {
  const bytes = movieBytes(1_300_000);
  const { url, clipId } = await presign(rig.origin, { size: bytes.length });
  const begun = await beginPut(url, bytes, 700_001);
  await vi.waitFor(async () => expect((await stat(part(clipId))).size).toBe(700_001));
  await begun.cut();
  expect(await offset(url)).toBe(700_001);
  expect((await put(url, bytes)).status).toBe(409);
  const answer = await put(url, bytes.subarray(700_001), { from: 700_001 });
  expect(answer.body.fileHash).toBe(md5(bytes));
  expect((await readFile(original(clipId))).equals(bytes)).toBe(true);
  expect(await leftovers()).toEqual([`${clipId}.json`]);
});

test('a killed server reads the checksum anew and ends with the same file', async () => {
  const bytes = movieBytes(900_000);
  const { clipId, url } = await presign(rig.origin, { size: bytes.length });
  const begun = await beginPut(url, bytes, 400_000);
  await vi.waitFor(async () => expect((await stat(part(clipId))).size).toBe(400_000));
  await begun.cut();
  await rig.restart();
  const again = await presign(rig.origin, { size: bytes.length }, { clipId });
  expect(await offset(again.url)).toBe(400_000);
  const answer = await put(again.url, bytes.subarray(400_000), { from: 400_000 });
  expect(answer.body.fileHash).toBe(md5(bytes));
});

test('two writers: the newer takes over, the file is exact', async () => {
  const bytes = movieBytes(3_000_000);
  const { url, clipId } = await presign(rig.origin, { size: bytes.length });
  const slow = await beginPut(url, bytes, 1_000_000);
  await vi.waitFor(async () => expect((await stat(part(clipId))).size).toBe(1_000_000));
  const from = await offset(url);
  expect(from).toBe(1_000_000);
  slow.request.write(bytes.subarray(1_000_000, 1_500_000));
  expect((await put(url, bytes.subarray(from), { from })).status).toBe(200);
  expect((await readFile(original(clipId))).equals(bytes)).toBe(true);
  await slow.cut();
});

test('PUT and HEAD want the session of the person who claimed the clip', async () => {
  const { url, clipId } = await presign(rig.origin, { size: 1000 });
  expect(await put(url, movieBytes(1000), { person: null })).toMatchObject({
    status: 401,
    body: { fault: 'not-signed-in' },
  });
  expect((await put(url, movieBytes(1000), { person: BERT })).status).toBe(404);
  expect(await offset(url, BERT)).toBeNaN();
  expect((await put(url, movieBytes(1000), { headers: { 'sec-fetch-site': 'cross-site' } })).status).toBe(
    404,
  );
  expect(existsSync(part(clipId))).toBe(false);
});

test('an expired address is refused and keeps what was sent', async () => {
  const { url, clipId, body } = await presign(rig.origin, { size: 1000 });
  const { key } = (body as unknown as { key: string }[])[0]!;
  const expired = await Micro.runPromise(
    generateSignedURL(
      `http://embedded.invalid/api/ingest/${key}`,
      Redacted.make(`sk_live_${deriveKey(SECRET, 'uploads/key')}`),
      {
        ttlInSeconds: -5 as unknown as '1h',
        data: {
          'x-ut-identifier': deriveKey(SECRET, 'uploads/app').slice(0, 10),
          'x-ut-file-size': 1000,
          'x-ut-custom-id': `clips/${clipId}/original.mov`,
        },
      },
    ),
  );
  const answer = await put(expired.replace('http://embedded.invalid', rig.origin), movieBytes(1000));
  expect(answer).toMatchObject({ status: 409, body: { fault: 'wrong-state' } });
  expect((await put(url, movieBytes(1000))).status).toBe(200);
});

test('a full disk refuses before a byte is written, and keeps nothing', async () => {
  await rig.restart({ freeBytes: async () => 512 * 1024 ** 2 + 999 });
  const { url, clipId } = await presign(rig.origin, { size: 1000 });
  expect(await put(url, movieBytes(1000))).toMatchObject({ status: 507, body: { fault: 'disk-full' } });
  expect(await leftovers()).toEqual([]);
  expect(rig.claims.refusals).toMatchObject([{ clipId, fault: 'disk-full' }]);
  await rig.restart();
  const again = await presign(rig.origin, { size: 1000 }, { clipId });
  expect((await put(again.url, movieBytes(1000))).status).toBe(200);
});

test('another file under the same clip is told apart, by its size and by its print', async () => {
  const { clipId } = await presign(rig.origin, { size: 1000 }, { print: 'aa' });
  expect(faultOf(await presign(rig.origin, { size: 1001 }, { clipId }))).toBe('conflict');
  expect(faultOf(await presign(rig.origin, { size: 1000 }, { clipId, print: 'bb' }))).toBe('conflict');
  expect((await presign(rig.origin, { size: 1000 }, { clipId, print: 'aa' })).status).toBe(200);
});

test('when handing on fails the file stays, and the next try or sweep hands it on', async () => {
  rig.claims.storedThrows.push(new Error('database away'), new Error('database away'));
  const bytes = movieBytes(5000);
  const { url, clipId } = await presign(rig.origin, { size: bytes.length });
  expect((await put(url, bytes)).status).toBe(503);
  expect(await offset(url)).toBe(5000);
  const uploads = await rig.restart();
  expect((await uploads.sweep()).postponed).toEqual([clipId]);
  expect((await uploads.sweep()).completed).toEqual([clipId]);
  expect(rig.claims.storedClips).toMatchObject([{ clipId, md5: md5(bytes) }]);
  const again = await put(url.replace(/^http:\/\/[^/]+/, rig.origin), Buffer.alloc(0), { from: 5000 });
  expect(again).toMatchObject({ status: 200, body: { serverData: { clipId } } });
});

test('killed between the rename and the record: the sweep finds the file in storage', async () => {
  const bytes = movieBytes(5000);
  const { url, clipId } = await presign(rig.origin, { size: bytes.length });
  const before = await readFile(record(clipId));
  await put(url, bytes);
  await writeFile(record(clipId), before);
  rig.claims.storedClips.length = 0;
  expect((await rig.uploads.sweep()).completed).toEqual([clipId]);
  expect(rig.claims.storedClips).toMatchObject([{ md5: md5(bytes), type: 'video/quicktime' }]);
});

test('killed after the last byte and before the rename: the sweep moves the file in', async () => {
  const bytes = movieBytes(5000);
  const { clipId, url } = await presign(rig.origin, { size: bytes.length });
  const before = await readFile(record(clipId));
  await put(url, bytes);
  await rename(original(clipId), part(clipId));
  await writeFile(record(clipId), before);
  expect((await rig.uploads.sweep()).completed).toEqual([clipId]);
  expect((await readFile(original(clipId))).equals(bytes)).toBe(true);
});

test('an upload that nobody carried on for a week is given up, a fresh one is left alone', async () => {
  const old = await presign(rig.origin, { size: 1000 });
  const fresh = await presign(rig.origin, { size: 1000 });
  const weekAgo = new Date(Date.now() - 7.1 * 24 * 3600 * 1000);
  await utimes(record(old.clipId), weekAgo, weekAgo);
  expect((await rig.uploads.sweep()).abandoned).toEqual([old.clipId]);
  expect(rig.claims.refusals).toMatchObject([{ clipId: old.clipId, fault: 'interrupted' }]);
  expect(await leftovers()).toEqual([`${fresh.clipId}.json`]);
});

test('claimed again after its preparing failed: handed on again without sending, or sent anew when the file is gone', async () => {
  const bytes = movieBytes(5000);
  const { clipId, url } = await presign(rig.origin, { size: bytes.length });
  await put(url, bytes);
  rig.claims.storedClips.length = 0;
  const again = await presign(rig.origin, { size: bytes.length }, { clipId });
  expect(await offset(again.url)).toBe(5000);
  expect((await put(again.url, Buffer.alloc(0), { from: 5000 })).status).toBe(200);
  expect(rig.claims.storedClips).toHaveLength(1);
  rig.claims.storedClips.length = 0;
  await rm(original(clipId));
  const anew = await presign(rig.origin, { size: bytes.length }, { clipId });
  expect(await offset(anew.url)).toBe(0);
  expect((await put(anew.url, bytes)).status).toBe(200);
});

test('the ingest answers nothing else: no GET, no inner calls from outside', async () => {
  const { url } = await presign(rig.origin, { size: 1000 });
  expect((await fetch(url)).status).toBe(405);
  for (const name of ['route-metadata', 'callback-result'])
    expect((await fetch(`${rig.origin}/api/ingest/${name}`, { method: 'POST', body: '{}' })).status).toBe(
      405,
    );
});
