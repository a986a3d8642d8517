import { createHash, randomUUID } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { CagepostError } from '@/lib/domain/shared/errors';
import { startHost, type HostRig } from './support/hosts';
import { BERT, faultOf, movieBytes, presign, put } from './support/sender';

// One behaviour, whoever keeps the files: each case runs against the embedded ingest over real HTTP and against a
// stand-in of the hosted service that signs and verifies with the SDK's own code.

const md5 = (bytes: Uint8Array) => createHash('md5').update(bytes).digest('hex');
const kept = async (rig: HostRig, clipId: string) => rig.storage.list(`clips/${clipId}`);
/** The first bytes of a WebM: an EBML head with the document type (RFC 9559). */
const webmBytes = (size: number) => {
  const bytes = Buffer.alloc(size, 7);
  bytes.set(Buffer.from('1a45dfa39f4286810142f7810142f2810442f381084282847765626d', 'hex'), 0);
  return bytes;
};

describe.each(['embedded', 'hosted'] as const)('uploads at the %s host', (host) => {
  let rig: HostRig;
  beforeEach(async () => {
    rig = await startHost(host);
  });
  afterEach(() => rig.close());
  const send = (url: string, bytes: Uint8Array) => put(url, bytes, { reach: rig.reach });

  test('a whole file is kept under its clip, with its checksum, and handed on once', async () => {
    const bytes = movieBytes(300_000);
    const upload = await presign(rig.origin, { size: bytes.length });
    const answer = await send(upload.url, bytes);
    expect(answer.status).toBe(200);
    expect(answer.body).toMatchObject({
      fileHash: md5(bytes),
      serverData: { clipId: upload.clipId, md5: md5(bytes) },
    });
    const storageKey = `clips/${upload.clipId}/original.mov`;
    expect(rig.claims.storedClips).toMatchObject([
      {
        clipId: upload.clipId,
        storageKey,
        sizeBytes: bytes.length,
        md5: md5(bytes),
        type: 'video/quicktime',
      },
    ]);
    const stream = await rig.storage.read(storageKey);
    expect(Buffer.concat(await stream!.toArray()).equals(bytes)).toBe(true);
  });

  test('a repeat hears that the clip is here already and sends nothing', async () => {
    const bytes = movieBytes(5000);
    const first = await presign(rig.origin, { size: bytes.length });
    await send(first.url, bytes);
    const again = await presign(rig.origin, { size: bytes.length }, { clipId: first.clipId });
    expect(faultOf(again)).toBe('already-stored');
    expect(rig.claims.storedClips).toHaveLength(1);
  });

  test.each([
    ['nobody is signed in', {}, { person: null }, 'not-signed-in'],
    ['the file is empty', { size: 0 }, {}, 'empty'],
    ['the file is too large', { size: 4_000_001 }, {}, 'too-large'],
    ['it is declared as something else', { type: 'text/html' }, {}, 'not-a-video'],
    ['it is declared as sound', { type: 'audio/mpeg' }, {}, 'no-picture'],
    ['the id is no id of ours', {}, { clipId: '../../etc/passwd' }, 'invalid'],
  ])('before the first byte it is refused that %s', async (_, file, options, fault) => {
    const upload = await presign(rig.origin, { size: 1000, ...file }, options);
    expect(upload.status).toBeGreaterThanOrEqual(400);
    expect(faultOf(upload)).toBe(fault);
    expect(upload.body.message).toBeTruthy();
  });

  test('another person hears of no such clip', async () => {
    const first = await presign(rig.origin, { size: 1000 });
    const other = await presign(rig.origin, { size: 1000 }, { clipId: first.clipId, person: BERT });
    expect(other.status).toBe(404);
    expect(faultOf(other)).toBe('not-found');
  });

  test.each([
    [
      'a web page declared as a video',
      Buffer.from('<!doctype html><script>alert(1)</script>'.padEnd(9000)),
      'not-a-video',
    ],
    ['a WebM declared as a MOV', webmBytes(9000), 'type-mismatch'],
    [
      'a sound file declared as a video',
      Buffer.concat([Buffer.from('\0\0\0\x18ftypM4A \0\0\0\0M4A mp42', 'latin1'), Buffer.alloc(9000)]),
      'no-picture',
    ],
  ])('%s is refused by its bytes, and nothing of it is kept', async (_, bytes, fault) => {
    const upload = await presign(rig.origin, { size: bytes.length });
    expect(faultOf(await send(upload.url, bytes))).toBe(fault);
    expect(await kept(rig, upload.clipId)).toEqual([]);
    expect(rig.claims.refusals).toMatchObject([{ clipId: upload.clipId, fault }]);
    expect(rig.claims.storedClips).toEqual([]);
  });

  test.each([
    [999, 'cut-off'],
    [1001, 'too-large'],
    [60_000, 'too-large'],
  ])('declared 1000 bytes, sent %i: refused, nothing kept', async (size, fault) => {
    const upload = await presign(rig.origin, { size: 1000 });
    expect(faultOf(await send(upload.url, movieBytes(size)))).toBe(fault);
    expect(await kept(rig, upload.clipId)).toEqual([]);
    expect(rig.claims.refusals).toMatchObject([{ clipId: upload.clipId, fault }]);
  });

  test('a clip that nobody wants any more is removed, and its sender hears why', async () => {
    rig.claims.storedThrows.push(new CagepostError('not-found', 'There is no such clip.'));
    const upload = await presign(rig.origin, { size: 1000 });
    expect(faultOf(await send(upload.url, movieBytes(1000)))).toBe('not-found');
    expect(await kept(rig, upload.clipId)).toEqual([]);
  });

  test('a tampered or forged address is refused', async () => {
    const { url, clipId } = await presign(rig.origin, { size: 1000 });
    const forgeries = [
      url.replace('file-size=1000', 'file-size=9000'),
      url.replaceAll(clipId, randomUUID()),
      url.replace(/expires=\d/, 'expires=9'),
      url.replace(/.$/, (last) => (last === '0' ? '1' : '0')),
      url.split('&signature')[0]!,
      `${url}&x-ut-file-size=9`,
    ];
    for (const forged of forgeries)
      expect((await send(forged, movieBytes(1000))).status).toBeGreaterThanOrEqual(400);
    expect(await kept(rig, clipId)).toEqual([]);
  });

  test('a forged completion is refused', async () => {
    const { clipId } = await presign(rig.origin, { size: 1000 });
    const file = {
      key: 'k',
      customId: clipId,
      name: 'a',
      size: 1,
      type: 'video/mp4',
      fileHash: 'x',
      url: 'http://a',
      appUrl: 'http://a',
      ufsUrl: 'http://a',
    };
    const answer = await fetch(`${rig.origin}/api/uploadthing?slug=clip`, {
      method: 'POST',
      body: JSON.stringify({ status: 'uploaded', metadata: { clipId }, origin: 'http://127.0.0.1:9', file }),
      headers: {
        'content-type': 'application/json',
        'uploadthing-hook': 'callback',
        'x-uploadthing-signature': `hmac-sha256=${'0'.repeat(64)}`,
      },
    });
    expect(answer.status).toBe(400);
    expect(rig.claims.storedClips).toEqual([]);
  });
});
