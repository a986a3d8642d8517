import { zoomOf, type Viewport } from '@/lib/review/canvas/viewport';
import { readCounter } from '../../support/media/counter';
import { COUNTER_AREA } from '../frames/phone-clips';
import { createReader, lumaOf } from './read-words';
import { composite } from './screen-recording';
import { runScript, WORDS, type Stand } from './stand';

// When a screen recording shows as much as a breakdown, which shows every frame exactly and every line sharp. It is
// equally legible when at least 95 % of the pictures that stood on the stage are legible in it, at every change:
// stepping, slow playing, zoom, a growing mark. One is left out only if it stood for less than a picture of the
// recording. A picture is legible when, before the next one came and at most 100 ms after it came, the recording showed
// it with a luma PSNR of 34 dB or more, with the smallest chalk words (16 px) told apart from all other numbers of two
// digits by template match, and, as long as the whole clip is seen, with the number burnt into the frame read right.
// 34 dB, 95 % and 100 ms are our own choice, made before anything was measured by it. The recording that is judged is
// the one whose bytes count. Its encoder gets all the time it wants: live, on a busy machine, it would leave pictures
// out and be small for that.

/** Decibels of luma at which a picture keeps its fine parts, and how soon after a change. Our own choice. */
const LEGIBLE_DB = 34;
const SOON_MS = 100;

/** A picture that stood on the stage, from when until when in milliseconds of the script. */
interface Stood {
  from: number;
  to: number;
  frame: number;
  viewport: Viewport;
  pixels: ImageData;
}

/** Plays the script and takes every picture that the stage shows meanwhile. */
export const takePictures = async (stand: Stand, lengthMs: number): Promise<Stood[]> => {
  const { player, board } = stand;
  const all: Stood[] = [];
  let last = '';
  let isSettled = false;
  let beganAt = performance.now();
  const seen = new Map<object, number>();
  const nameOf = (thing: object) => seen.get(thing) ?? seen.set(thing, seen.size).size - 1;
  const screen = composite(stand, (ctx) => {
    const frame = player.getSnapshot().shownFrame;
    const { viewport } = board.getSnapshot();
    if (frame === null || !viewport) return;
    const { scale, left, top } = viewport;
    const now = [frame, scale, left, top, ...board.allMarks().all.map(nameOf)].join();
    const pixels = () => ctx.getImageData(0, 0, ctx.canvas.width, ctx.canvas.height);
    const newest = all.at(-1);
    if (now !== last) {
      const from = performance.now() - beganAt;
      if (newest) newest.to = from;
      all.push({ from, to: Infinity, frame, viewport, pixels: pixels() });
    } else if (newest && !isSettled) {
      // What changed a moment ago may be painted with this display frame only.
      newest.pixels = pixels();
    }
    isSettled = now === last;
    last = now;
  });
  beganAt = performance.now();
  await runScript(stand, lengthMs);
  screen.stop();
  const end = all.at(-1);
  if (end) end.to = Math.max(lengthMs, performance.now() - beganAt);
  const [first] = all;
  if (first) first.from = 0;
  return all;
};

/** Peak signal to noise ratio of two pictures of one size, in decibels; 99 for equal ones. */
const psnr = (one: Uint8Array, other: Uint8Array): number => {
  let sum = 0;
  for (let at = 0; at < one.length; at += 1) sum += ((one[at] ?? 0) - (other[at] ?? 0)) ** 2;
  return sum === 0 ? 99 : 10 * Math.log10((255 * 255 * one.length) / sum);
};

export interface Legibility {
  /** Bytes of the pictures alone, without voice and container. */
  bytes: number;
  /** Pictures that stood, and which part of them the recording shows legibly. */
  pictures: number;
  share: number;
  /** Of each picture the best decibels that were shown in time: the median, and the one a twentieth from below. */
  medianDb: number;
  lowDb: number;
  /** Parts of them: too far from the truth, chalk words not read, frame number not read, nothing shown in time. */
  blurred: number;
  wordsLost: number;
  numberLost: number;
  late: number;
}

interface Verdict {
  db: number;
  hasWords: boolean;
  hasNumber: boolean;
}

/** A screen recording of so many rounds of the script; `bits` a second, `numbers` are burnt into the frames. */
export interface ScreenPlan {
  bits: number;
  framesPerSecond: number;
  rounds: number;
  roundMs: number;
  numbers: readonly number[];
}

/** Holds the pictures of a recording against those that stood for at least one of its own. */
const createJudge = (
  taken: readonly Stood[],
  { roundMs, numbers, framesPerSecond }: Omit<ScreenPlan, 'bits'>,
) => {
  const stood = taken.filter(({ from, to }) => to - from >= 1000 / framesPerSecond);
  const { width, height } = stood[0]?.pixels ?? { width: 0, height: 0 };
  const read = createReader(width, height);
  const truths = stood.map(({ pixels, viewport }) => {
    const luma = lumaOf(pixels);
    const words = read(luma, viewport) ?? WORDS.text;
    if (words !== WORDS.text) throw new Error(`The truth itself reads ${words}.`);
    return luma;
  });
  const canvas = new OffscreenCanvas(width, height);
  const ctx = canvas.getContext('2d', { willReadFrequently: true });
  if (!ctx) throw new Error('No canvas.');
  const verdicts = new Map<string, Verdict>();
  return {
    /** How many pictures stand in so many rounds. */
    count: (rounds: number) => stood.length * rounds,
    verdicts,
    /** Takes a picture of the recording that is shown from this millisecond on. */
    look(frame: VideoFrame, ms: number) {
      const round = Math.floor(ms / roundMs);
      const at = ms - round * roundMs;
      const index = stood.findIndex(({ from, to }) => at >= from && at < to && at < from + SOON_MS);
      const picture = stood[index];
      const truth = truths[index];
      if (!picture || !truth) return;
      ctx.drawImage(frame, 0, 0, width, height);
      const pixels = ctx.getImageData(0, 0, width, height);
      const luma = lumaOf(pixels);
      const db = psnr(luma, truth);
      const key = `${round}/${index}`;
      if (db <= (verdicts.get(key)?.db ?? -Infinity)) return;
      const isWhole = Math.abs(zoomOf(picture.viewport) - 1) < 1e-6;
      verdicts.set(key, {
        db,
        hasWords: (read(luma, picture.viewport) ?? WORDS.text) === WORDS.text,
        hasNumber: !isWhole || readCounter(pixels, COUNTER_AREA) === numbers[picture.frame],
      });
    },
  };
};

const dequeued = (coder: EventTarget) =>
  new Promise((resolve) => coder.addEventListener('dequeue', resolve, { once: true }));

/**
 * Records the pictures, so many rounds of them, with the browser's own encoder for recordings (VP8), which gets all the
 * time it wants: on a busy machine a live recorder leaves pictures out, and that must not count against it. The
 * recording is judged as it is decoded.
 */
export const recordAndJudge = async (taken: readonly Stood[], plan: ScreenPlan): Promise<Legibility> => {
  const { bits, framesPerSecond, rounds, roundMs } = plan;
  const everyMs = 1000 / framesPerSecond;
  const judge = createJudge(taken, plan);
  const { width = 0, height = 0 } = taken[0]?.pixels ?? {};
  let bytes = 0;
  let fault: unknown = null;
  const fail = (error: unknown) => {
    fault = error;
  };
  const decoder = new VideoDecoder({
    output: (frame) => {
      judge.look(frame, frame.timestamp / 1000);
      frame.close();
    },
    error: fail,
  });
  const encoder = new VideoEncoder({
    output: (chunk, metadata) => {
      bytes += chunk.byteLength;
      if (metadata?.decoderConfig) decoder.configure(metadata.decoderConfig);
      decoder.decode(chunk);
    },
    error: fail,
  });
  encoder.configure({
    ...{ codec: 'vp8', width, height, bitrate: bits, framerate: framesPerSecond },
    latencyMode: 'realtime',
  });
  for (let n = 0; n * everyMs < rounds * roundMs; n += 1) {
    const ms = n * everyMs;
    const at = ms % roundMs;
    const picture = taken.findLast(({ from }) => from <= at);
    if (!picture) throw new Error('Nothing was taken.');
    const frame = new VideoFrame(picture.pixels.data, {
      ...{ format: 'RGBA', codedWidth: width, codedHeight: height },
      ...{ timestamp: Math.round(ms * 1000), duration: Math.round(everyMs * 1000) },
    });
    encoder.encode(frame);
    frame.close();
    while (!fault && encoder.encodeQueueSize > 2) await dequeued(encoder);
    while (!fault && decoder.decodeQueueSize > 2) await dequeued(decoder);
    if (fault) throw fault instanceof Error ? fault : new Error(String(fault));
  }
  await encoder.flush();
  await decoder.flush();
  encoder.close();
  decoder.close();
  return { bytes, ...summary([...judge.verdicts.values()], judge.count(rounds)) };
};

const summary = (verdicts: readonly Verdict[], pictures: number): Omit<Legibility, 'bytes'> => {
  const part = (test: (one: Verdict) => boolean) => verdicts.filter(test).length / Math.max(1, pictures);
  const late = 1 - verdicts.length / Math.max(1, pictures);
  const sorted = verdicts.map((one) => one.db).sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? NaN;
  return {
    pictures,
    share: part((one) => one.db >= LEGIBLE_DB && one.hasWords && one.hasNumber),
    medianDb: at(0.5),
    lowDb: at(0.05),
    blurred: part((one) => one.db < LEGIBLE_DB),
    wordsLost: part((one) => !one.hasWords),
    numberLost: part((one) => !one.hasNumber),
    late,
  };
};
