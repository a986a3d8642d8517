import { createHash, randomUUID } from 'node:crypto';
import { readdir } from 'node:fs/promises';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { BreakdownEvent } from '@/lib/domain/breakdowns/event';
import { writePart } from '@/lib/domain/breakdowns/parse-part';
import { PART_TYPE } from '@/lib/domain/breakdowns/timeline';
import { CagepostError } from '@/lib/domain/shared/errors';
import { startHost, type HostRig } from './support/hosts';
import { buildScene } from '../support/build-scene';
import { ANNA, beginPut, put } from './support/sender';

// Parts of breakdowns go the same way as clips: the same cases against both hosts.

const CLIP = randomUUID();
const scene: BreakdownEvent = { t: 0, kind: 'scene', scene: buildScene({ clipId: CLIP }) };
const partOf = (segmentId: string, number: number, voiceBytes = 40_000) =>
  writePart(
    {
      ...{ version: 2, segmentId, number, voiceType: 'audio/webm', fromMs: 0, toMs: 10_000 },
      events: number === 0 ? [scene] : [],
    },
    Buffer.alloc(voiceBytes, 5),
  );
const md5 = (bytes: Uint8Array) => createHash('md5').update(bytes).digest('hex');

const claim = async (
  rig: HostRig,
  input: Record<string, unknown>,
  file: { size: number; type?: string },
  person: string | null = ANNA,
) => {
  const answer = await fetch(`${rig.origin}/api/uploadthing?actionType=upload&slug=part`, {
    method: 'POST',
    headers: {
      'content-type': 'application/json',
      'x-uploadthing-version': '7.7.4',
      ...(person && { cookie: `person=${person}` }),
    },
    body: JSON.stringify({ files: [{ name: 'a', type: PART_TYPE, ...file }], input }),
  });
  const body = (await answer.json()) as { url: string }[] & { fault?: string; message?: string };
  return {
    status: answer.status,
    fault: body.fault,
    url: body[0] ? new URL(body[0].url, rig.origin).href : '',
  };
};

describe.each(['embedded', 'hosted'] as const)('parts at the %s host', (host) => {
  let rig: HostRig;
  let breakdownId: string;
  let segmentId: string;
  beforeEach(async () => {
    rig = await startHost(host);
    [breakdownId, segmentId] = [randomUUID(), randomUUID()];
  });
  afterEach(() => rig.close());
  const send = (url: string, bytes: Uint8Array) => put(url, bytes, { reach: rig.reach });
  const subject = (number = 0) => ({ breakdownId, segmentId, number });

  test('a part is kept under its breakdown and handed on; a repeat sends nothing', async () => {
    const bytes = partOf(segmentId, 0);
    const { url } = await claim(rig, { ...subject(), print: 'aa' }, { size: bytes.length });
    const answer = await send(url, bytes);
    expect(answer.body.serverData).toMatchObject({ ...subject(), md5: md5(bytes) });
    const storageKey = `breakdowns/${breakdownId}/parts/${segmentId}-0`;
    expect(rig.parts.storedParts).toMatchObject([
      { part: subject(), personId: ANNA, storageKey, sizeBytes: bytes.length, md5: md5(bytes) },
    ]);
    expect(Buffer.concat(await (await rig.storage.read(storageKey))!.toArray()).equals(bytes)).toBe(true);
    expect((await claim(rig, subject(), { size: bytes.length })).fault).toBe('already-stored');
  });

  test('the voice of a remark is one part', async () => {
    const remarkId = randomUUID();
    const bytes = partOf(remarkId, 0);
    const { url } = await claim(rig, { remarkId }, { size: bytes.length });
    expect((await send(url, bytes)).body.serverData).toMatchObject({ remarkId, md5: md5(bytes) });
    expect(await rig.storage.list(`remarks/${remarkId}`)).toEqual([`remarks/${remarkId}/part`]);
  });

  test.each([
    ['nobody is signed in', {}, null, 'not-signed-in'],
    ['it is empty', { size: 0 }, ANNA, 'empty'],
    ['it is larger than a part may be', { size: 4 * 1024 ** 2 + 1 }, ANNA, 'too-large'],
    ['it is declared as something else', { type: 'video/mp4' }, ANNA, 'type-mismatch'],
  ])('before the first byte it is refused that %s', async (_, file, person, fault) => {
    expect((await claim(rig, subject(), { size: 1000, ...file }, person)).fault).toBe(fault);
  });

  test('ids that are none of ours are refused', async () => {
    const strange = { ...subject(), segmentId: '../../etc' };
    expect((await claim(rig, strange, { size: 1000 })).status).toBe(400);
    expect((await claim(rig, { ...subject(), number: -1 }, { size: 1000 })).status).toBe(400);
  });

  test.each<[string, (segmentId: string) => Uint8Array]>([
    ['no part at all', () => Buffer.alloc(5000, 65)],
    ['a head of another take', () => partOf(randomUUID(), 0)],
    ['a head of another number', (take) => partOf(take, 1)],
    ['fewer bytes of voice than its head says', (take) => partOf(take, 0).subarray(0, 20_000)],
  ])('%s is refused, and nothing of it is kept', async (_, make) => {
    const bytes = make(segmentId);
    const { url } = await claim(rig, subject(), { size: bytes.length });
    const answer = await send(url, bytes);
    expect(answer.body.fault ?? answer.body.serverData?.fault).toBe('not-a-part');
    expect(await rig.storage.list(`breakdowns/${breakdownId}`)).toEqual([]);
    expect(rig.parts.storedParts).toEqual([]);
  });

  test('a part that may not be kept any more goes again, and its sender hears why', async () => {
    rig.parts.storedThrows.push(new CagepostError('safeguarding', 'A guardian has paused contact.'));
    const bytes = partOf(segmentId, 0);
    const { url } = await claim(rig, subject(), { size: bytes.length });
    expect((await send(url, bytes)).body.serverData).toMatchObject({ fault: 'safeguarding' });
    expect(await rig.storage.list(`breakdowns/${breakdownId}`)).toEqual([]);
  });
});

describe('parts at the embedded host', () => {
  let rig: HostRig;
  beforeEach(async () => {
    rig = await startHost('embedded');
  });
  afterEach(() => rig.close());

  // A take that an older version of the program kept is written anew after an update, in other bytes.
  describe('made anew', () => {
    const named = () => ({ breakdownId: randomUUID(), segmentId: randomUUID(), number: 0 });

    test('while the older one is on its way, that one ends and the newer one is kept', async () => {
      const part = named();
      const [older, newer] = [partOf(part.segmentId, 0, 50_000), partOf(part.segmentId, 0, 40_000)];
      const first = await claim(rig, { ...part, print: 'aa' }, { size: older.length });
      const { cut } = await beginPut(first.url, Buffer.from(older), 20_000);
      const { url } = await claim(rig, { ...part, print: 'bb' }, { size: newer.length });
      expect((await put(url, newer)).body.serverData).toMatchObject({ md5: md5(newer) });
      // The older address leads nowhere any more.
      expect((await put(first.url, older)).body.fault).toBe('conflict');
      await cut();
      expect(rig.parts.storedParts).toMatchObject([{ sizeBytes: newer.length, md5: md5(newer) }]);
      const storageKey = `breakdowns/${part.breakdownId}/parts/${part.segmentId}-0`;
      expect(await rig.storage.size(storageKey)).toBe(newer.length);
    });

    test('when the older one is here but could not be handed on, the newer one takes its place', async () => {
      rig.parts.storedThrows.push(new Error('database away'));
      const part = named();
      const [older, newer] = [partOf(part.segmentId, 0, 50_000), partOf(part.segmentId, 0, 40_000)];
      const first = await claim(rig, part, { size: older.length });
      expect((await put(first.url, older)).status).toBe(503);
      const { url } = await claim(rig, part, { size: newer.length });
      expect((await put(url, newer)).body.serverData).toMatchObject({ md5: md5(newer) });
      expect((await rig.uploads.sweep()).completed).toEqual([]);
      expect(rig.parts.storedParts).toMatchObject([{ md5: md5(newer) }]);
    });

    test('when the older one is stored, its sender hears that it is', async () => {
      const part = named();
      const older = partOf(part.segmentId, 0);
      const { url } = await claim(rig, { ...part, print: 'aa' }, { size: older.length });
      await put(url, older);
      expect((await claim(rig, { ...part, print: 'bb' }, { size: 1000 })).fault).toBe('already-stored');
      expect(rig.parts.prints).toEqual(['aa', 'bb']);
    });
  });

  test('a full disk is told in words for parts', async () => {
    await rig.restart({ freeBytes: async () => 0 });
    const part = { breakdownId: randomUUID(), segmentId: randomUUID(), number: 0 };
    const bytes = partOf(part.segmentId, 0);
    const { url } = await claim(rig, part, { size: bytes.length });
    const answer = await put(url, bytes);
    expect(answer).toMatchObject({ status: 507, body: { fault: 'disk-full' } });
    expect(answer.body.error).toContain('still on your device');
    expect(await readdir(path.join(rig.folder, 'uploads'))).toEqual([]);
  });

  test('when handing on fails the part stays, and the sweep hands it on', async () => {
    rig.parts.storedThrows.push(new Error('database away'));
    const part = { breakdownId: randomUUID(), segmentId: randomUUID(), number: 3 };
    const bytes = partOf(part.segmentId, 3);
    const { url } = await claim(rig, part, { size: bytes.length });
    expect((await put(url, bytes)).status).toBe(503);
    const uploads = await rig.restart();
    expect((await uploads.sweep()).completed).toEqual([`${part.breakdownId}.${part.segmentId}.3`]);
    expect(rig.parts.storedParts).toMatchObject([{ part, md5: md5(bytes) }]);
  });
});
