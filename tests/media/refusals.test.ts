import { readFile, writeFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { ClipFault } from '@/lib/domain/clips/clip';
import { makeClip } from '../support/media/make-clip';
import { openMediaBench } from '../support/media/prepared-clip';
import { readBack } from '../support/media/read-back';

let bench: Awaited<ReturnType<typeof openMediaBench>>;
beforeAll(async () => {
  bench = await openMediaBench({ maxSeconds: 5, maxBytes: 200_000 });
});
afterAll(() => bench.close());

const small = { width: 96, height: 64, frames: 12 };

async function faultOf(
  name: string,
  bytes: Buffer | string,
  declaredType = '',
): Promise<ClipFault | 'taken'> {
  await writeFile(bench.at(name), bytes);
  const { outcome } = await bench.prepare(bench.at(name), { declaredType });
  return outcome.ok ? 'taken' : outcome.fault;
}
const bytesOf = async (name: string, recipe: object = {}) =>
  readFile((await makeClip({ ...small, ...recipe, path: bench.at(name) })).path);

describe('a file that is refused has a closed reason', () => {
  test('empty', async () => {
    expect(await faultOf('empty.mp4', '')).toBe('empty');
  });
  test('not a video: a page, a picture, a playlist that names another file', async () => {
    expect(await faultOf('page.mp4', '<!doctype html><title>swing</title>', 'video/mp4')).toBe('not-a-video');
    expect(await faultOf('list.mp4', '#EXTM3U\n#EXTINF:1,\nfile:///etc/hostname\n')).toBe('not-a-video');
    const png = Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex');
    expect(await faultOf('picture.mp4', Buffer.concat([png, Buffer.alloc(200)]), 'video/mp4')).toBe(
      'not-a-video',
    );
  });
  test('sound only', async () => {
    expect(await faultOf('a.mp4', await bytesOf('sound.mp4', { soundOnly: true }))).toBe('no-picture');
    expect(await faultOf('a.webm', await bytesOf('sound.webm', { soundOnly: true }))).toBe('no-picture');
  });
  test('declared as something else than its bytes', async () => {
    const webm = await bytesOf('true.webm');
    expect(await faultOf('b1', webm, 'video/mp4')).toBe('type-mismatch');
    expect(await faultOf('b2', webm, 'text/html')).toBe('type-mismatch');
    expect(await faultOf('b3', webm, 'video/webm;codecs=vp9')).toBe('taken');
    expect(await faultOf('b4', await bytesOf('true.mov'), 'video/mp4')).toBe('taken');
  });
  test.each(['mp4', 'mov', 'webm', 'mkv'])('cut off (%s), wherever the cut is', async (ending) => {
    const whole = await bytesOf(`whole.${ending}`, { sound: 440 });
    for (const share of [0.3, 0.6, 0.9])
      expect(await faultOf(`cut-${share}`, whole.subarray(0, Math.floor(whole.length * share)))).toBe(
        'cut-off',
      );
  });
  test('cut off with the index at the front', async () => {
    const whole = await bytesOf('front.mp4', { indexFirst: true });
    expect(await faultOf('front-cut', whole.subarray(0, whole.length - 40))).toBe('cut-off');
  });
  test('too long and too large', async () => {
    expect(await faultOf('long', await bytesOf('long.mp4', { rate: { num: 1, den: 1 } }))).toBe('too-long');
    expect(await faultOf('large', Buffer.alloc(200_001, 1))).toBe('too-large');
  });
  test('an index of noise is unreadable, and kept', async () => {
    const bytes = Buffer.from(await bytesOf('noise.mp4'));
    bytes.fill(0xa5, bytes.indexOf('moov') + 12);
    expect(await faultOf('noise', bytes)).toBe('unreadable');
  });
});

describe('the child of the engine', () => {
  test('is killed when it takes too much memory, and says so', async () => {
    const tight = await openMediaBench({ memoryMiB: 30 });
    try {
      const file = await makeClip({ ...small, frames: 600, path: tight.at('long.mp4') });
      const { outcome } = await tight.prepare(file.path);
      expect(outcome).toMatchObject({ ok: false, fault: 'out-of-memory' });
    } finally {
      await tight.close();
    }
  });
  test('is killed when it takes too long, and the next file is fine', async () => {
    const tight = await openMediaBench({ totalMs: 1 });
    try {
      const file = await makeClip({ ...small, path: tight.at('a.mp4') });
      const { outcome } = await tight.prepare(file.path);
      expect(outcome).toMatchObject({ ok: false, fault: 'out-of-time' });
      expect((await bench.prepare(file.path)).outcome.ok).toBe(true);
    } finally {
      await tight.close();
    }
  });
  test('ends its work as interrupted when the engine is closed', async () => {
    const closing = await openMediaBench();
    const file = await makeClip({ ...small, frames: 200, path: closing.at('a.mp4') });
    let ended: Promise<void> | undefined;
    const { outcome } = await closing.prepare(file.path, {
      onProgress: () => {
        ended ??= closing.engine.close();
      },
    });
    expect(outcome).toMatchObject({ ok: false, fault: 'interrupted' });
    await ended;
    expect((await closing.prepare(file.path)).outcome).toMatchObject({ ok: false, fault: 'interrupted' });
    await closing.close();
  });
});

describe('the place where a clip was filmed', () => {
  const PLACE = '+40.6892-074.0445/';
  test.each(['mov', 'mp4'])('is nowhere in what is kept (%s), and no picture changes', async (ending) => {
    const made = await makeClip({
      ...small,
      bFrames: 2,
      sound: 440,
      rotation: 90,
      location: PLACE,
      path: bench.at(`place.${ending}`),
    });
    // User data, the QuickTime key and a timed track carry it.
    expect((await readFile(made.path)).toString('latin1').split(PLACE).length - 1).toBeGreaterThanOrEqual(3);
    const { outcome, folder, files } = await bench.prepare(made.path);
    expect(outcome.original?.original).toBe('wiped');
    for (const file of files)
      expect((await readFile(`${folder}/${file}`)).includes('40.6892'), file).toBe(false);
    expect(await readBack(`${folder}/original-wiped`)).toEqual(await readBack(made.path));
  });
  test('of Matroska tags too, and a file without any is left as it is', async () => {
    const tagged = await makeClip({ ...small, metadata: { LOCATION: PLACE }, path: bench.at('place.mkv') });
    expect((await readFile(tagged.path)).includes(PLACE)).toBe(true);
    const first = await bench.prepare(tagged.path);
    expect(first.outcome.original?.original).toBe('wiped');
    const wiped = `${first.folder}/original-wiped`;
    expect((await readFile(wiped)).includes('40.6892')).toBe(false);
    expect(await readBack(wiped)).toEqual(await readBack(tagged.path));
    const again = await bench.prepare(wiped);
    expect(again.outcome).toMatchObject({ ok: true, original: { original: 'clean' } });
  });
});
