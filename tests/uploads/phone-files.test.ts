import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { ALL_FORMATS, BlobSource, EncodedPacketSink, Input } from 'mediabunny';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { inspectFile } from '@/lib/review/upload/inspect-file';
import { scrubLocation } from '@/lib/review/upload/scrub-location';
import { trimClip } from '@/lib/review/upload/trim-clip';
import { makeClip, type ClipRecipe } from '../support/media/make-clip';
import { readBack } from '../support/media/read-back';

const PLACE = '+48.8577+002.2950+045.000/';
const LIMITS = { maxBytes: 1024 ** 3, maxSeconds: 180 };
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), 'phone-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const TYPES: Record<string, string> = {
  '.mp4': 'video/mp4',
  '.mov': 'video/quicktime',
  '.webm': 'video/webm',
  '.mkv': 'video/x-matroska',
};
const made = async (name: string, recipe: Partial<ClipRecipe> = {}) => {
  const at = path.join(folder, name);
  await makeClip({ path: at, frames: 30, width: 160, height: 120, ...recipe });
  return new File([await readFile(at)], name, { type: TYPES[path.extname(name)] ?? '' });
};
const bytesOf = async (file: File) => Buffer.from(await file.arrayBuffer());
const framesOf = async (file: File) => {
  const at = path.join(folder, `again-${file.name}`);
  await writeFile(at, await bytesOf(file));
  return (await readBack(at)).frames;
};

/** Every packet's time and content, as a second library reads them. */
const packetsOf = async (file: File) => {
  const input = new Input({ source: new BlobSource(file), formats: ALL_FORMATS });
  const track = await input.getPrimaryVideoTrack();
  const packets: { timestamp: number; bytes: string }[] = [];
  for await (const packet of new EncodedPacketSink(track!).packets())
    packets.push({ timestamp: packet.timestamp, bytes: Buffer.from(packet.data).toString('base64') });
  input.dispose();
  return packets;
};

describe('where it was filmed', () => {
  test.each([
    ['a.mov', { location: PLACE, rotation: 90 }],
    ['a.mp4', { location: PLACE, bFrames: 2, sound: 440 }],
    ['front.mp4', { location: PLACE, indexFirst: true }],
  ] as const)('leaves %s, and nothing else does', async (name, recipe) => {
    const file = await made(name, recipe);
    expect((await bytesOf(file)).includes(PLACE.slice(0, 8))).toBe(true);
    const scrubbed = await scrubLocation(file);
    expect(scrubbed.hits).toBeGreaterThan(0);
    expect(scrubbed.file.size).toBe(file.size);
    expect((await bytesOf(scrubbed.file)).includes(PLACE.slice(0, 8))).toBe(false);
    expect(await packetsOf(scrubbed.file)).toEqual(await packetsOf(file));
    const [before, after] = [await inspectFile(file, LIMITS), await inspectFile(scrubbed.file, LIMITS)];
    expect(after).toMatchObject({ width: before.width, height: before.height, hasSound: before.hasSound });
  });

  test.each(['tags.webm', 'tags.mkv'])('leaves the tags of %s', async (name) => {
    const file = await made(name, {
      codec: 'vp9',
      metadata: { LOCATION: PLACE, comment: 'behind the red barn' },
    });
    expect((await bytesOf(file)).includes('red barn')).toBe(true);
    const scrubbed = await scrubLocation(file);
    expect((await bytesOf(scrubbed.file)).includes('red barn')).toBe(false);
    expect((await bytesOf(scrubbed.file)).includes(PLACE.slice(0, 8))).toBe(false);
    expect(await packetsOf(scrubbed.file)).toEqual(await packetsOf(file));
  });

  test('a file without any is answered as it is, and so is what it does not understand', async () => {
    const junk = new File([new Uint8Array(5000).fill(7)], 'junk.mov');
    expect(await scrubLocation(junk)).toEqual({ file: junk, hits: 0 });
    const empty = new File([], 'empty.mov');
    expect(await scrubLocation(empty)).toEqual({ file: empty, hits: 0 });
  });

  test('a file cut off anywhere does not break it', async () => {
    const whole = await made('cut.mov', { location: PLACE, indexFirst: true });
    for (let length = 0; length < whole.size; length += 997)
      await expect(scrubLocation(new File([whole.slice(0, length)], 'cut.mov'))).resolves.toBeDefined();
  });
});

describe('what is told before a byte is sent', () => {
  test('length, size as shown, sound', async () => {
    const file = await made('turned.mov', {
      rotation: 90,
      sound: 440,
      frames: 60,
      rate: { num: 30, den: 1 },
    });
    const facts = await inspectFile(file, LIMITS);
    expect(facts).toMatchObject({
      type: 'video/quicktime',
      width: 120,
      height: 160,
      hasVideo: true,
      hasSound: true,
      fault: null,
    });
    expect(facts.durationS).toBeCloseTo(2, 1);
  });

  test('the rate that the phone noted', async () => {
    const file = await made('slow.mp4', { metadata: { 'com.android.capture.fps': '240' } });
    expect((await inspectFile(file, LIMITS)).rateHint).toEqual({ captureRate: 240, isSlowMotion: true });
    const scrubbed = await scrubLocation(file);
    expect((await inspectFile(scrubbed.file, LIMITS)).rateHint).toBeNull();
  });

  test('what is refused on the phone already', async () => {
    const sound = await made('sound.mp4', { soundOnly: true });
    const clip = await made('clip.mp4');
    const fault = async (file: File, limits = LIMITS) => (await inspectFile(file, limits)).fault;
    expect(await fault(sound)).toBe('no-picture');
    expect(await fault(new File([], 'a.mp4'))).toBe('empty');
    expect(await fault(new File(['<!doctype html>'.padEnd(999)], 'a.mp4'))).toBe('not-a-video');
    expect(await fault(clip, { ...LIMITS, maxBytes: clip.size - 1 })).toBe('too-large');
    expect(await fault(clip, { ...LIMITS, maxSeconds: 0.5 })).toBe('too-long');
    expect(await fault(clip)).toBeNull();
  });
});

describe('trimming', () => {
  test.each([
    ['long.mp4', 40, { bFrames: 2, location: PLACE }],
    ['long.mov', 40, { codec: 'hevc', location: PLACE }],
    ['long.webm', 30, { codec: 'vp9' }],
    ['long.mkv', 30, { bFrames: 2 }],
  ] as const)('%s keeps every frame that was asked for, bit by bit', async (name, begins, recipe) => {
    const file = await made(name, {
      ...recipe,
      frames: 120,
      gop: 30,
      rate: { num: 30, den: 1 },
    });
    // From frame 40 up to before frame 80: the key picture before is frame 30. MP4 and MOV hide what lies between.
    const cut = await trimClip(file, 40 / 30, 80 / 30);
    expect(cut.type).toBe(TYPES[path.extname(name)]);
    expect((await bytesOf(cut)).includes(PLACE.slice(0, 8))).toBe(false);
    const whole = await packetsOf(file);
    const kept = await packetsOf(cut);
    const first = whole.findIndex((packet) => packet.bytes === kept[0]?.bytes);
    expect(kept.map((packet) => packet.bytes)).toEqual(
      whole.slice(first, first + kept.length).map((packet) => packet.bytes),
    );
    const shown = (await framesOf(cut)).map((frame) => frame.counter);
    const numbers = shown.filter((counter) => counter !== null);
    for (let frame = 40; frame < 80; frame++) expect(numbers).toContain(frame);
    expect(numbers[0]).toBe(begins);
    expect(numbers.length).toBeLessThan(60);
  });

  test('it stays as it was held', async () => {
    const file = await made('held.mov', { frames: 60, rotation: 90 });
    expect(await inspectFile(await trimClip(file, 0.5, 1), LIMITS)).toMatchObject({
      width: 120,
      height: 160,
    });
  });

  test('it can be given up, tells how far it is, and refuses what is no video', async () => {
    const file = await made('stop.mp4', { frames: 60 });
    await expect(trimClip(file, 0, 1, AbortSignal.abort())).rejects.toThrow();
    const shares: number[] = [];
    await trimClip(file, 0, 1, undefined, (share) => shares.push(share));
    expect(shares.at(-1)).toBeGreaterThan(0.9);
    await expect(trimClip(new File(['junk'.repeat(500)], 'a.mp4'), 0, 1)).rejects.toThrow();
  });
});
