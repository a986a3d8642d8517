import {
  ALL_FORMATS,
  BlobSource,
  BufferTarget,
  Conversion,
  Input,
  Output,
  WebMOutputFormat,
} from 'mediabunny';
import { describe, expect, test } from 'vitest';
import type { BreakdownEvent } from '@/lib/domain/breakdowns/event';
import { indexTimeline, sceneAt } from '@/lib/domain/breakdowns/scene';
import type { Timeline } from '@/lib/domain/breakdowns/timeline';
import type { Mark } from '@/lib/domain/marks/mark';
import { exportBreakdown, type ExportOptions } from '@/lib/review/export/export-breakdown';
import type { FrameSource } from '@/lib/review/media/frame-source';
import { openFrameSource } from '@/lib/review/media/open-frame-source';
import { buildScene } from '../../support/build-scene';
import { countedClip, numberIn } from '../player/counted-clip';
import { colourAt, pictureAt, readBack } from './read-back';

const CLIP = '018f5e2a-0000-7000-8000-00000000c11b';
const OTHER = '018f5e2a-0000-7000-8000-00000000c11c';
const LINE = '018f5e2a-0000-7000-8000-000000000001';
const DURATION_MS = 3000;

// A vertical line where the counter of the picture stands at neither side.
const line: Mark = {
  version: 1,
  id: LINE,
  clipId: CLIP,
  frame: 40,
  span: 1,
  chalk: 'clay',
  itemId: null,
  hidden: false,
  kind: 'line',
  points: [
    { x: 0.02, y: 0.86 },
    { x: 0.98, y: 0.86 },
  ],
};
const first = buildScene({ clipId: CLIP, frame: 5 });
const events: BreakdownEvent[] = [
  { t: 0, kind: 'scene', scene: first },
  ...Array.from({ length: 20 }, (_, at): BreakdownEvent => ({
    t: 400 + at * 40,
    kind: 'frame',
    clipId: CLIP,
    frame: 10 + at,
  })),
  { t: 1300, kind: 'choose', checkpoint: 'contact', itemId: null },
  { t: 1400, kind: 'frame', clipId: CLIP, frame: 40 },
  { t: 1600, kind: 'mark', mark: line },
  { t: 2300, kind: 'rub', ids: [LINE] },
  { t: 2600, kind: 'frame', clipId: CLIP, frame: 95 },
];
const timelineOf = (change: Partial<Timeline> = {}): Timeline => ({
  version: 1,
  clips: [{ clipId: CLIP, frameCount: 96 }],
  durationMs: DURATION_MS,
  hasVoice: false,
  events,
  ...change,
});

const opened: FrameSource[] = [];
const openSource: ExportOptions['openSource'] = async (clipId, signal) => {
  const clip = await countedClip(clipId === CLIP ? 'review' : 'ntsc');
  const source = await openFrameSource({ url: clip.url, table: clip.table, signal });
  opened.push(source);
  return source;
};
const plain = (change: Partial<ExportOptions> = {}) =>
  exportBreakdown({
    timeline: timelineOf(),
    voice: null,
    openSource,
    captions: null,
    how: 'none',
    ...change,
  });

const tone = async () => (await fetch('/test-clips/tone.mp4')).blob();
const asRecorded = async (aac: Blob): Promise<Blob> => {
  const input = new Input({ source: new BlobSource(aac), formats: ALL_FORMATS });
  const target = new BufferTarget();
  const output = new Output({ format: new WebMOutputFormat(), target });
  const conversion = await Conversion.init({ input, output, audio: { codec: 'opus' } });
  await conversion.execute();
  return new Blob([target.buffer!], { type: 'audio/webm;codecs=opus' });
};

describe('the pictures of the file', () => {
  test('each is the exact frame of the breakdown, and one that stays is there once', async () => {
    const file = await readBack(await plain());
    const clip = await countedClip('review');
    const index = indexTimeline(timelineOf());
    expect(file.videoCodec).toBe('avc');
    expect(file.durationMs).toBe(DURATION_MS);
    // 1 + 20 frames + frame 40, the mark drawn and rubbed out, frame 95: choosing an item changes no picture.
    expect(file.pictures).toHaveLength(25);
    const read = file.pictures.map(({ atMs, canvas }) => ({
      atMs,
      number: numberIn(canvas as unknown as OffscreenCanvas, canvas.width, canvas.height),
    }));
    const wanted = file.pictures.map(({ atMs }) => ({
      atMs,
      number: clip.numberOf(sceneAt(index, atMs).frame),
    }));
    const isMarked = (atMs: number) => atMs >= 1600 && atMs < 2300;
    expect(read.filter(({ atMs }) => !isMarked(atMs))).toEqual(wanted.filter(({ atMs }) => !isMarked(atMs)));
    expect(file.pictures.at(0)).toMatchObject({ atMs: 0, lastsMs: 400 });
    expect(file.pictures.at(-1)).toMatchObject({ atMs: 2600, lastsMs: 400 });
  });

  test('a mark is in it from the moment it was drawn until it was rubbed out', async () => {
    const { pictures } = await readBack(await plain());
    const clay = [0xf0, 0x93, 0x6a];
    const distance = (ms: number) =>
      colourAt(pictureAt(pictures, ms), 0.04, 0.86).reduce(
        (most, part, at) => Math.max(most, Math.abs(part - clay[at]!)),
        0,
      );
    expect(distance(1650)).toBeLessThan(40);
    expect(distance(2250)).toBeLessThan(40);
    expect(distance(1500)).toBeGreaterThan(60);
    expect(distance(2400)).toBeGreaterThan(60);
  });

  test('another clip beside it stands in the right half', async () => {
    const beside: BreakdownEvent = {
      t: 500,
      kind: 'beside',
      beside: { clipId: OTHER, frame: 7, opacity: 0 },
    };
    const timeline = timelineOf({
      clips: [
        { clipId: CLIP, frameCount: 96 },
        { clipId: OTHER, frameCount: 60 },
      ],
      events: [events[0]!, beside],
    });
    const { pictures } = await readBack(await plain({ timeline }));
    expect(pictures).toHaveLength(2);
    const { canvas } = pictures[1]!;
    // The landscape clip is fitted into the right half of the portrait file: half as wide, in the middle.
    const wide = canvas.width / 2;
    const high = (wide * 180) / 320;
    const cut = document.createElement('canvas');
    cut.width = 320;
    cut.height = 180;
    cut.getContext('2d')!.drawImage(canvas, wide, (canvas.height - high) / 2, wide, high, 0, 0, 320, 180);
    expect(numberIn(cut as unknown as OffscreenCanvas, 320, 180)).toBe(7);
  });
});

describe('the voice', () => {
  test('AAC is copied, as long as the breakdown', async () => {
    const file = await readBack(await plain({ voice: await tone() }));
    expect(file).toMatchObject({ audioCodec: 'aac', videoCodec: 'avc' });
    // One AAC packet is 1024 samples of 48000 a second.
    expect(Math.abs(file.soundMs - DURATION_MS)).toBeLessThanOrEqual(22);
    expect(file.soundPackets).toBeGreaterThan(130);
  });

  test('an Opus voice comes out as AAC, by the browser or by whoever is asked', async () => {
    const aac = await tone();
    const voice = await asRecorded(aac);
    const file = await readBack(await plain({ voice, voiceAsAac: async () => aac }));
    expect(file.audioCodec).toBe('aac');
    expect(Math.abs(file.soundMs - DURATION_MS)).toBeLessThanOrEqual(22);
  });

  test('a voice that cannot be read is refused, and every clip is closed', async () => {
    const broken = new Blob([new Uint8Array(2000).fill(7)], { type: 'audio/webm' });
    await expect(plain({ voice: broken })).rejects.toMatchObject({
      fault: 'invalid',
      forPeople: expect.stringContaining('The voice of this breakdown could not be read'),
    });
  });
});

describe('captions', () => {
  const captions = {
    vtt: 'WEBVTT\n\n00:01.200 --> 00:01.550\nLand with your foot closed\n',
    cues: [{ fromMs: 1200, toMs: 1550, text: 'Land with your foot closed' }],
  };
  const isDarkAtFoot = (pictures: Parameters<typeof pictureAt>[0], ms: number) => {
    const seen = [0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6, 0.65, 0.7].map((x) =>
      colourAt(pictureAt(pictures, ms), x, 0.955).reduce((sum, part) => sum + part, 0),
    );
    return seen.filter((sum) => sum < 150).length >= 4;
  };

  test('burnt in, they stand in the picture as long as they are said', async () => {
    const { pictures } = await readBack(await plain({ captions, how: 'burnt' }));
    const without = await readBack(await plain({ captions, how: 'none' }));
    expect(pictures.map(({ atMs }) => atMs)).toEqual(expect.arrayContaining([1200, 1550]));
    expect(isDarkAtFoot(pictures, 1450)).toBe(true);
    expect(isDarkAtFoot(without.pictures, 1450)).toBe(false);
  });

  test('as a track, they are in the file and not in the picture', async () => {
    const blob = await plain({ captions, how: 'track' });
    const bytes = new TextDecoder('latin1').decode(await blob.arrayBuffer());
    // ISO/IEC 14496-30: a WebVTT track has the sample entry `wvtt`, each cue a `vttc` with its words in `payl`.
    expect(bytes).toContain('wvtt');
    expect(bytes).toMatch(/vttc[\s\S]{0,200}payl[\s\S]{0,8}Land with your foot closed/);
    expect((await readBack(blob)).pictures).toHaveLength(25);
  });

  test('the written sentences of a silent breakdown are burnt in when it has no others', async () => {
    const timeline = timelineOf({
      events: [events[0]!, { t: 600, kind: 'caption', text: 'Land with your foot closed' }],
    });
    const { pictures } = await readBack(await plain({ timeline, how: 'burnt' }));
    expect(isDarkAtFoot(pictures, 300)).toBe(false);
    expect(isDarkAtFoot(pictures, 2900)).toBe(true);
  });
});

describe('giving up', () => {
  test('progress rises to the end; stopping midway closes every clip', async () => {
    const parts: number[] = [];
    await plain({ onProgress: (part) => parts.push(part) });
    expect(parts.at(-1)).toBe(1);
    expect([...parts].sort((a, b) => a - b)).toEqual(parts);

    const stop = new AbortController();
    opened.length = 0;
    await expect(plain({ signal: stop.signal, onProgress: () => stop.abort() })).rejects.toMatchObject({
      name: 'AbortError',
    });
    expect(opened.map((source) => source.held().frames)).toEqual(opened.map(() => 0));
  });

  test('a clip that is gone is refused with its sentence', async () => {
    const { CagepostError } = await import('@/lib/domain/shared/errors');
    const gone = () => Promise.reject(new CagepostError('not-found', 'This clip was removed.'));
    await expect(plain({ openSource: gone })).rejects.toMatchObject({ forPeople: 'This clip was removed.' });
  });
});
