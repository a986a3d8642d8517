import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  clampFrame,
  frameAtTime,
  frameDurationUs,
  middleOfFrameUs,
  nearestFrame,
} from '@/lib/review/media/frame-lookup';

/** Strictly rising timestamps in microseconds with gaps from 240 pictures a second to a second. */
const tables = fc
  .record({
    first: fc.integer({ min: 0, max: 5_000_000 }),
    gaps: fc.array(fc.integer({ min: 4_000, max: 1_000_000 }), { maxLength: 200 }),
  })
  .map(({ first, gaps }) => gaps.reduce((ptsUs, gap) => [...ptsUs, (ptsUs.at(-1) ?? 0) + gap], [first]));
const times = fc.integer({ min: -1_000_000, max: 250_000_000 });

describe('the frame that is on at a time', () => {
  test('of a table written by hand', () => {
    const ptsUs = [0, 33_367, 66_733, 133_467];
    expect(frameAtTime(ptsUs, -5)).toBe(0);
    expect(frameAtTime(ptsUs, 33_366)).toBe(0);
    expect(frameAtTime(ptsUs, 33_367)).toBe(1);
    expect(frameAtTime(ptsUs, 133_466)).toBe(2);
    expect(frameAtTime(ptsUs, 9_999_999)).toBe(3);
    expect(frameAtTime([], 7)).toBe(0);
  });

  test('is the last one that starts at or before it', () => {
    fc.assert(
      fc.property(tables, times, (ptsUs, us) => {
        const slow = Math.max(0, ptsUs.filter((start) => start <= us).length - 1);
        expect(frameAtTime(ptsUs, us)).toBe(slow);
      }),
    );
  });

  test('from the middle of a frame is that frame', () => {
    fc.assert(
      fc.property(tables, (ptsUs) => {
        ptsUs.forEach((_, index) => expect(frameAtTime(ptsUs, middleOfFrameUs(ptsUs, index))).toBe(index));
      }),
    );
  });
});

describe('the nearest frame', () => {
  test('of a table written by hand', () => {
    const ptsUs = [0, 100, 300];
    expect(nearestFrame(ptsUs, 50)).toBe(0);
    expect(nearestFrame(ptsUs, 51)).toBe(1);
    expect(nearestFrame(ptsUs, 201)).toBe(2);
    expect(nearestFrame(ptsUs, 200)).toBe(1);
  });

  test('has no other that is nearer', () => {
    fc.assert(
      fc.property(tables, times, (ptsUs, us) => {
        const distance = Math.abs((ptsUs[nearestFrame(ptsUs, us)] ?? NaN) - us);
        expect(distance).toBe(Math.min(...ptsUs.map((start) => Math.abs(start - us))));
      }),
    );
  });
});

test('a frame lasts until the next; the last as long as the one before; a lone one 40 ms', () => {
  const ptsUs = [0, 33_000, 100_000];
  expect([0, 1, 2].map((index) => frameDurationUs(ptsUs, index))).toEqual([33_000, 67_000, 67_000]);
  expect(frameDurationUs([5], 0)).toBe(40_000);
});

test('an index is rounded and held inside the clip', () => {
  expect([-3, 0.6, 2.4, 99, NaN, Infinity].map((index) => clampFrame(index, 10))).toEqual([0, 1, 2, 9, 0, 0]);
  expect(clampFrame(4, 0)).toBe(0);
});
