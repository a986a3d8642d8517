import { paintMark } from '@/lib/review/canvas/render-mark';
import type { Viewport } from '@/lib/review/canvas/viewport';
import { WORDS } from './stand';

/** Luma of a picture (BT.601), one byte a pixel. */
export const lumaOf = ({ data }: Pick<ImageData, 'data'>): Uint8Array => {
  const luma = new Uint8Array(data.length / 4);
  for (let at = 0, from = 0; at < luma.length; at += 1, from += 4)
    luma[at] = ((data[from] ?? 0) * 77 + (data[from + 1] ?? 0) * 150 + (data[from + 2] ?? 0) * 29 + 128) >> 8;
  return luma;
};

interface Box {
  left: number;
  top: number;
  width: number;
  height: number;
}

/** What is drawn on a picture of one grey: the smallest box round it, null for nothing. */
const boxOfDrawn = (luma: Uint8Array, width: number): Box | null => {
  let [left, top, right, bottom] = [Infinity, Infinity, -1, -1];
  luma.forEach((value, at) => {
    if (value === luma[0]) return;
    const [x, y] = [at % width, Math.floor(at / width)];
    left = Math.min(left, x);
    right = Math.max(right, x);
    top = Math.min(top, y);
    bottom = Math.max(bottom, y);
  });
  return right === -1 ? null : { left, top, width: right - left + 1, height: bottom - top + 1 };
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
export const createReader = (width: number, height: number) => {
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
