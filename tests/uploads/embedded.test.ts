import { createHash } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { chooseStorage } from '@/lib/platform/storage';
import { DEFAULT_LIMITS } from '@/lib/platform/uploads/claims';
import { createUploads } from '@/lib/platform/uploads/uploads';
import { FakeClaims, personOf } from './support/fake-claims';
import { serveUploads } from './support/http-rig';
import { movieBytes, presign, put } from './support/sender';

let folder: string;
let claims: FakeClaims;
let rig: Awaited<ReturnType<typeof serveUploads>>;

beforeEach(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), 'uploads-'));
  claims = new FakeClaims();
  const log = { info: () => {}, warn: () => {}, error: console.log };
  rig = await serveUploads(
    createUploads(
      { dataFolder: folder, secret: 's'.repeat(40), claims, personOf, limits: DEFAULT_LIMITS, log },
      chooseStorage({ dataFolder: folder }),
    ),
  );
});
afterEach(async () => {
  await rig.close();
  await rm(folder, { recursive: true, force: true });
});

test('a file goes up in one piece and lies in storage', async () => {
  const bytes = movieBytes(300_000);
  const upload = await presign(rig.origin, { size: bytes.length });
  expect(upload.status).toBe(200);
  const answer = await put(upload.url, bytes);
  expect(answer).toMatchObject({ status: 200, body: { serverData: { clipId: upload.clipId } } });
  const md5 = createHash('md5').update(bytes).digest('hex');
  expect(answer.body.fileHash).toBe(md5);
  expect(claims.storedClips).toMatchObject([{ clipId: upload.clipId, md5, type: 'video/quicktime' }]);
  const kept = await readFile(path.join(folder, 'storage/clips', upload.clipId, 'original.mov'));
  expect(kept.equals(bytes)).toBe(true);
  expect((await readdir(path.join(folder, 'uploads'))).sort()).toEqual([`${upload.clipId}.json`]);
});
