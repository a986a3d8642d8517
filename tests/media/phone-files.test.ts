import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ticksToMicroseconds } from '@/lib/domain/clips/rendition';
import { makeClip, type ClipRecipe } from '../support/media/make-clip';
import { openMediaBench, readFrameTable, readStrip } from '../support/media/prepared-clip';
import { readBack } from '../support/media/read-back';
import { readWithSecondLibrary } from '../support/media/second-reader';

// Every kind of file that phones and browsers write, made here with a counter in the picture, prepared, and read back:
// the number of frames, their order and their timestamps have to be those of the source.

interface Kind {
  name: string;
  recipe: Omit<ClipRecipe, 'path'>;
  ending?: 'mp4' | 'mov' | 'webm' | 'mkv';
  size?: { width: number; height: number };
  captureRate?: { rate: number; isSure: boolean };
}

const small = { width: 256, height: 144, frames: 24 };

const KINDS: Kind[] = [
  { name: 'constant 30 with sound', recipe: { ...small, sound: 440 } },
  { name: '29.97 (NTSC)', recipe: { ...small, rate: { num: 30_000, den: 1001 } } },
  { name: '240 pictures a second', recipe: { ...small, frames: 120, rate: { num: 240, den: 1 } } },
  {
    name: 'variable rate, as a phone in dim light',
    recipe: {
      ...small,
      timing: { timescale: 90_000, ticks: (i) => i * 3000 + (i % 3) * 450 + (i > 12 ? 6000 : 0) },
    },
  },
  { name: 'B-frames', recipe: { ...small, frames: 50, bFrames: 3, gop: 25 } },
  {
    name: 'B-frames, variable rate, MOV clock of 600',
    ending: 'mov',
    recipe: {
      ...small,
      bFrames: 2,
      timing: { timescale: 600, ticks: (i) => i * 20 + (i % 2) * 3 },
    },
  },
  {
    name: 'edit list that hides frames at both ends',
    recipe: { ...small, frames: 40, bFrames: 2, gop: 20, edit: { hideFirst: 7, hideLast: 5 }, sound: 440 },
  },
  ...([90, 180, 270] as const).map((rotation) => ({
    name: `rotation ${rotation}`,
    recipe: { ...small, rotation },
    size: rotation === 180 ? { width: 256, height: 144 } : { width: 144, height: 256 },
  })),
  { name: 'HEVC with B-frames', ending: 'mov', recipe: { ...small, codec: 'hevc', bFrames: 2 } },
  {
    name: 'HEVC rotated',
    ending: 'mov',
    recipe: { ...small, codec: 'hevc', rotation: 90 },
    size: { width: 144, height: 256 },
  },
  { name: 'HDR (HLG)', ending: 'mov', recipe: { ...small, hdr: 'hlg' } },
  {
    name: 'HDR (PQ), rotated',
    recipe: { ...small, hdr: 'pq', rotation: 270 },
    size: { width: 144, height: 256 },
  },
  {
    name: 'slow motion stretched to 30, rate in the file',
    recipe: { ...small, metadata: { 'com.android.capture.fps': '240.0' } },
    captureRate: { rate: 240, isSure: true },
  },
  {
    name: '4K',
    recipe: { width: 3840, height: 2160, frames: 3, sound: 440 },
    size: { width: 1280, height: 720 },
  },
  {
    name: 'odd sizes, H.264',
    recipe: { frames: 12, width: 255, height: 143 },
    size: { width: 254, height: 142 },
  },
  {
    name: 'odd sizes, VP9',
    ending: 'webm',
    recipe: { frames: 12, width: 255, height: 143 },
    size: { width: 254, height: 142 },
  },
  { name: 'WebM with Opus', ending: 'webm', recipe: { ...small, sound: 440 } },
  {
    name: 'MKV with HEVC and B-frames',
    ending: 'mkv',
    recipe: { ...small, codec: 'hevc', bFrames: 2, sound: 440 },
  },
  { name: 'AV1 in MKV', ending: 'mkv', recipe: { ...small, codec: 'av1', quality: 12 } },
  { name: 'MPEG-4 part 2 of an old phone', recipe: { ...small, codec: 'mpeg4' } },
  { name: 'a single frame', recipe: { ...small, frames: 1 } },
];

let bench: Awaited<ReturnType<typeof openMediaBench>>;
beforeAll(async () => {
  bench = await openMediaBench();
});
afterAll(() => bench.close());

describe.each(KINDS)('$name', ({ name, recipe, ending = 'mp4', size, captureRate }) => {
  test('keeps every frame, in order, at its own time, upright', async () => {
    const made = await makeClip({
      ...recipe,
      path: bench.at(`${name.replaceAll(/\W+/g, '-')}.${ending}`),
    });
    const source = await readBack(made.path);
    expect(source.frames).toHaveLength(made.shownFrames.length);

    const { outcome, folder, files } = await bench.prepare(made.path, {
      declaredType: { mp4: 'video/mp4', mov: 'video/quicktime', webm: 'video/webm', mkv: '' }[ending],
    });
    if (!outcome.ok) throw new Error(`${outcome.fault}: ${outcome.detail}`);
    expect(files).toEqual(
      expect.arrayContaining(['frames.json', 'poster.jpg', 'review.mp4', 'strip.jpg', 'strip.json']),
    );
    const review = path.join(folder, 'review.mp4');
    const read = await readBack(review);

    // Frames in = frames out, in order.
    expect(read.frames.map((frame) => frame.counter)).toEqual(made.shownFrames);
    // Timestamps are the source's, counted from its first shown picture, in exact ticks.
    const first = source.frames[0]?.ticks ?? 0;
    const ticksOf = (ticks: number, base: { num: number; den: number }) => (ticks * base.num) / base.den;
    expect(read.frames.map((frame) => ticksOf(frame.ticks, read.timeBase))).toEqual(
      source.frames.map((frame) => ticksOf(frame.ticks - first, source.timeBase)),
    );
    const table = await readFrameTable(folder);
    expect(table.ptsUs).toEqual(
      source.frames.map((frame) => ticksToMicroseconds(BigInt(frame.ticks - first), source.timeBase)),
    );
    if (ending !== 'webm' && ending !== 'mkv')
      expect(table.ptsUs).toEqual(made.shownTicks.map((ticks) => Math.round((ticks * 1e6) / made.timescale)));
    expect(outcome.facts.frameCount).toBe(made.shownFrames.length);

    // Another library reads the same: H.264, no rotation left, key frames at most 6 apart, packets in display order.
    const second = await readWithSecondLibrary(review);
    expect(second.codec).toBe('avc');
    expect(second.rotation).toBe(0);
    expect(second.packets.map(({ seconds }) => Math.round(seconds * 1e6))).toEqual(table.ptsUs);
    second.packets.forEach(({ isKey }, index) => expect(isKey).toBe(index % 6 === 0));
    expect(second.soundCodec).toBe(recipe.sound ? 'aac' : null);
    expect(second.soundChannels).toBe(recipe.sound ? 1 : 0);

    expect({ width: table.width, height: table.height }).toEqual(
      size ?? { width: recipe.width, height: recipe.height },
    );
    expect({ width: second.width, height: second.height }).toEqual({
      width: table.width,
      height: table.height,
    });
    if (captureRate) {
      expect(table.captureRate).toBe(captureRate.rate);
      expect(outcome.facts.rateIsSure).toBe(captureRate.isSure);
    } else {
      expect(outcome.facts.rateIsSure).toBe(false);
      expect(table.captureRate).toBe(table.fileRate);
    }

    const strip = await readStrip(folder);
    expect(strip.frames[0]).toBe(0);
    expect(strip.frames.at(-1)).toBe(table.ptsUs.length - 1);
  });
});

test('a display matrix is read as the second library reads it', async () => {
  for (const rotation of [90, 180, 270] as const) {
    const { path: file } = await makeClip({
      ...small,
      frames: 3,
      rotation,
      path: bench.at(`matrix-${rotation}.mp4`),
    });
    // mediabunny, as a reader of its own, turns clockwise by the same angle.
    expect((await readWithSecondLibrary(file)).rotation).toBe(rotation);
  }
});

test('a long clip of a fast camera takes a key frame every 12', async () => {
  const made = await makeClip({
    path: bench.at('fast.mp4'),
    width: 64,
    height: 36,
    frames: 1010,
    rate: { num: 240, den: 1 },
  });
  const { outcome, folder } = await bench.prepare(made.path);
  expect(outcome).toMatchObject({ ok: true, facts: { frameCount: 1010, fileRate: 240 } });
  const { packets } = await readWithSecondLibrary(path.join(folder, 'review.mp4'));
  packets.forEach(({ isKey }, index) => expect(isKey).toBe(index % 12 === 0));
});
