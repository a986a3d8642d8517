import { ALL_FORMATS, BlobSource, Input, VideoSampleSink } from 'mediabunny';
import type { Mark } from '@/lib/domain/marks/mark';
import { paintMark } from '@/lib/review/canvas/render-mark';
import { zoomOf, type Viewport } from '@/lib/review/canvas/viewport';
import { readCounter } from '../../support/media/counter';
import { COUNTER_AREA } from '../frames/phone-clips';
import { FRAMES_PER_SECOND, type ScreenRecording } from './screen-recording';
import { WORDS, type Stand } from './stand';

// When a screen recording shows as much as a breakdown: the README says what counts and why.

/** Decibels of luma at which a picture keeps its fine parts, and how soon after a change. Our own choice. */
const LEGIBLE_DB = 34;
const SOON_MS = 100;
/** A recorder begins at its own time after it was told to; the shift that is best for the recording is taken. */
const SHIFTS_MS = Array.from({ length: 41 }, (_, n) => n * 10 - 100);

/** A picture that stood on the stage. */
interface Stood {
  /** From when until when, in milliseconds of `performance.now()`. */
  from: number;
  to: number;
  frame: number;
  viewport: Viewport;
  luma: Uint8Array;
}

/** Luma of a picture (BT.601), one byte a pixel. */
const lumaOf = ({ data }: ImageData): Uint8Array => {
  const luma = new Uint8Array(data.length / 4);
  for (let at = 0, from = 0; at < luma.length; at += 1, from += 4)
    luma[at] = ((data[from] ?? 0) * 77 + (data[from + 1] ?? 0) * 150 + (data[from + 2] ?? 0) * 29 + 128) >> 8;
  return luma;
};

/** Peak signal to noise ratio of two pictures of one size, in decibels; 99 for equal ones. */
const psnr = (one: Uint8Array, other: Uint8Array): number => {
  let sum = 0;
  for (let at = 0; at < one.length; at += 1) sum += ((one[at] ?? 0) - (other[at] ?? 0)) ** 2;
  return sum === 0 ? 99 : 10 * Math.log10((255 * 255 * one.length) / sum);
};

/** Watches the pictures of a stage; give `look` to the recorder, then ask for `stood`. */
export const watchPictures = ({ player, board }: Stand) => {
  const all: Stood[] = [];
  let last: { frame: number; viewport: Viewport; marks: readonly Mark[]; since: number } | null = null;
  let isTaken = false;
  const isSame = (marks: readonly Mark[], viewport: Viewport, frame: number) =>
    last?.frame === frame &&
    (['scale', 'left', 'top'] as const).every((field) => last?.viewport[field] === viewport[field]) &&
    last.marks.length === marks.length &&
    marks.every((mark, at) => mark === last?.marks[at]);
  return {
    look(ctx: CanvasRenderingContext2D) {
      const frame = player.getSnapshot().shownFrame;
      const { viewport } = board.getSnapshot();
      const marks = [...board.allMarks().all];
      const now = performance.now();
      if (frame === null || !viewport) return;
      if (!isSame(marks, viewport, frame)) {
        const before = all.at(-1);
        if (before && isTaken) before.to = now;
        last = { frame, viewport, marks, since: now };
        isTaken = false;
      } else if (last && !isTaken) {
        // Only now: what changed a moment ago may be painted with this display frame.
        isTaken = true;
        const luma = lumaOf(ctx.getImageData(0, 0, ctx.canvas.width, ctx.canvas.height));
        all.push({ from: last.since, to: Infinity, frame, viewport, luma });
      }
    },
    stood: (): Stood[] => all.filter(({ from, to }) => to - from >= 1000 / FRAMES_PER_SECOND),
  };
};

interface Box {
  left: number;
  top: number;
  width: number;
  height: number;
}

/** What is drawn on a picture of one grey: the smallest box round it. */
const boxOfDrawn = (luma: Uint8Array, width: number): Box | null => {
  const ground = luma[0];
  const drawn = Array.from(luma.keys()).filter((at) => luma[at] !== ground);
  if (drawn.length === 0) return null;
  const extent = (places: number[]) =>
    places.reduce(([low, high], place) => [Math.min(low, place), Math.max(high, place)], [Infinity, 0] as [
      number,
      number,
    ]);
  const [left, right] = extent(drawn.map((at) => at % width));
  const [top, bottom] = extent(drawn.map((at) => Math.floor(at / width)));
  return { left, top, width: right - left + 1, height: bottom - top + 1 };
};

/** A box of luma with its mean taken out and its length 1, so that a product of two is their correlation. */
const normalised = (luma: Uint8Array, width: number, box: Box): Float32Array => {
  const out = new Float32Array(box.width * box.height);
  for (let y = 0; y < box.height; y += 1)
    for (let x = 0; x < box.width; x += 1)
      out[y * box.width + x] = luma[(box.top + y) * width + box.left + x] ?? 0;
  const mean = out.reduce((sum, value) => sum + value, 0) / out.length;
  const length = Math.sqrt(out.reduce((sum, value) => sum + (value - mean) ** 2, 0)) || 1;
  return out.map((value) => (value - mean) / length);
};

/**
 * Reads the chalk words of the script in luma of the stage: the number of two digits whose drawing is most like what
 * is there (normalised cross-correlation). Null where the words are not on the stage.
 */
const createReader = (width: number, height: number) => {
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  const ctx = canvas.getContext('2d', { willReadFrequently: true });
  if (!ctx) throw new Error('No canvas.');
  const draw = (text: string, viewport: Viewport) => {
    ctx.setTransform(1, 0, 0, 1, 0, 0);
    ctx.fillStyle = '#777';
    ctx.fillRect(0, 0, width, height);
    ctx.setTransform(viewport.dpr, 0, 0, viewport.dpr, 0, 0);
    paintMark(ctx, { ...WORDS, points: [WORDS.points[0]], text }, viewport);
    return lumaOf(ctx.getImageData(0, 0, width, height));
  };
  const known = new Map<string, { box: Box; drawn: (readonly [string, Float32Array])[] } | null>();
  const templates = (viewport: Viewport) => {
    const key = keyOf(viewport);
    const made = known.get(key);
    if (made !== undefined) return made;
    const box = boxOfDrawn(draw(WORDS.text, viewport), width);
    const texts = Array.from({ length: 90 }, (_, n) => String(10 + n));
    const all = box && {
      box,
      drawn: texts.map((text) => [text, normalised(draw(text, viewport), width, box)] as const),
    };
    known.set(key, all);
    return all;
  };
  return (luma: Uint8Array, viewport: Viewport): string | null => {
    const all = templates(viewport);
    if (!all) return null;
    const seen = normalised(luma, width, all.box);
    const likeness = (drawn: Float32Array) =>
      drawn.reduce((sum, value, at) => sum + value * (seen[at] ?? 0), 0);
    const alike = all.drawn.map(([text, drawn]) => ({ text, like: likeness(drawn) }));
    return alike.reduce((best, one) => (one.like > best.like ? one : best)).text;
  };
};

const keyOf = ({ scale, left, top }: Viewport) => [scale, left, top].join();

export interface Legibility {
  /** Pictures that stood, and which part of them the recording shows legibly. */
  pictures: number;
  share: number;
  /** Of each picture the best decibels that were shown in time: the median and the twentieth from below of a hundred. */
  medianDb: number;
  lowDb: number;
  /** Parts of them: too far from the truth, chalk words not read, frame number not read, nothing shown in time. */
  blurred: number;
  wordsLost: number;
  numberLost: number;
  late: number;
  shiftMs: number;
}

interface Shown {
  from: number;
  to: number;
  db: Map<number, number>;
  isRead: Map<number, { words: boolean; number: boolean }>;
}

/** Holds a screen recording against the pictures that stood on the stage; `numbers` are burnt into the frames. */
export const judgeLegibility = async (
  { blob, startedAt }: ScreenRecording,
  stood: readonly Stood[],
  numbers: readonly number[],
  size: { width: number; height: number },
): Promise<Legibility> => {
  const { width, height } = size;
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  const ctx = canvas.getContext('2d', { willReadFrequently: true });
  if (!ctx) throw new Error('No canvas.');
  const read = createReader(width, height);
  for (const { luma, viewport } of stood) {
    const words = read(luma, viewport);
    if (words !== null && words !== WORDS.text) throw new Error(`The truth itself reads ${words}.`);
  }
  const input = new Input({ source: new BlobSource(blob), formats: ALL_FORMATS });
  const track = await input.getPrimaryVideoTrack();
  if (!track) throw new Error('The recording has no picture.');
  const shown: Shown[] = [];
  const [least, most] = [SHIFTS_MS[0] ?? 0, SHIFTS_MS.at(-1) ?? 0];
  const packets = new VideoSampleSink(track).samples();
  for await (const sample of packets) {
    sample.draw(ctx, 0, 0, width, height);
    const from = startedAt + sample.timestamp * 1000;
    sample.close();
    const before = shown.at(-1);
    if (before) before.to = from;
    const one: Shown = { from, to: from + 1000 / FRAMES_PER_SECOND, db: new Map(), isRead: new Map() };
    shown.push(one);
    const pixels = ctx.getImageData(0, 0, width, height);
    const luma = lumaOf(pixels);
    const number = readCounter(pixels, COUNTER_AREA);
    const words = new Map<string, string | null>();
    for (const [index, picture] of stood.entries()) {
      // A picture of the recording may stand long after it came, so only what is over before it began is left out.
      if (picture.from > from + most + 300 || Math.min(picture.to, picture.from + SOON_MS) < from + least)
        continue;
      one.db.set(index, psnr(luma, picture.luma));
      const key = keyOf(picture.viewport);
      if (!words.has(key)) words.set(key, read(luma, picture.viewport));
      const isWhole = Math.abs(zoomOf(picture.viewport) - 1) < 1e-6;
      one.isRead.set(index, {
        words: [null, WORDS.text].includes(words.get(key) ?? null),
        number: !isWhole || number === numbers[picture.frame],
      });
    }
  }
  input.dispose();
  const readings = SHIFTS_MS.map((shift) => judgeAt(shift, shown, stood));
  return readings.reduce((best, one) => (one.share > best.share ? one : best));
};

const judgeAt = (shift: number, shown: readonly Shown[], stood: readonly Stood[]): Legibility => {
  const verdicts = stood.map((picture, index) => {
    const until = Math.min(picture.to, picture.from + SOON_MS);
    let best = { db: -Infinity, words: false, number: false };
    for (const one of shown) {
      if (one.from + shift >= until || one.to + shift <= picture.from) continue;
      const db = one.db.get(index) ?? -Infinity;
      const isRead = one.isRead.get(index);
      if (isRead && db > best.db) best = { db, ...isRead };
    }
    return best;
  });
  const part = (test: (one: (typeof verdicts)[number]) => boolean) =>
    verdicts.filter(test).length / Math.max(1, verdicts.length);
  const sorted = verdicts.map((one) => one.db).sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? NaN;
  return {
    pictures: stood.length,
    share: part((one) => one.db >= LEGIBLE_DB && one.words && one.number),
    medianDb: at(0.5),
    lowDb: at(0.05),
    blurred: part((one) => one.db < LEGIBLE_DB && one.db > -Infinity),
    wordsLost: part((one) => !one.words),
    numberLost: part((one) => !one.number),
    late: part((one) => one.db === -Infinity),
    shiftMs: shift,
  };
};
