import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { FrameTable } from '@/lib/domain/clips/frame-table';
import { playheadAt, stretchOf } from '@/lib/review/player/playhead';

const tableOf = (facts: Partial<FrameTable>): FrameTable => ({
  version: 1,
  width: 720,
  height: 1280,
  ptsUs: [0, 33_333, 66_667, 100_000],
  fileRate: null,
  captureRate: null,
  ...facts,
});

describe('how fast the file runs at speed 1', () => {
  test('as the file says when the capture rate is unknown', () => {
    expect(stretchOf(tableOf({ fileRate: 30 }))).toBe(1);
  });
  test('eight times as fast when 240 pictures a second lie in the file at 30', () => {
    expect(stretchOf(tableOf({ fileRate: 30, captureRate: 240 }))).toBe(8);
  });
  test('by the timestamps when the file does not tell its rate', () => {
    expect(stretchOf(tableOf({ captureRate: 120 }))).toBeCloseTo(4, 9);
  });
  test('a lone frame has no rate', () => {
    expect(stretchOf(tableOf({ ptsUs: [0], captureRate: 120 }))).toBe(1);
  });
});

describe('where playing stands', () => {
  const ptsUs = [0, 40_000, 50_000, 90_000];

  test('without a loop it ends when the last frame has been on for its time', () => {
    expect(playheadAt(ptsUs, 49_999, null)).toMatchObject({ index: 1, isOver: false });
    expect(playheadAt(ptsUs, 129_999, null)).toMatchObject({ index: 3, isOver: false });
    expect(playheadAt(ptsUs, 130_000, null)).toMatchObject({ index: 3, isOver: true });
  });

  test('a loop shows its last frame for its whole time and then its first', () => {
    const loop = { from: 1, to: 2 };
    expect(playheadAt(ptsUs, 89_999, loop)).toEqual({ index: 2, us: 89_999, isOver: false });
    expect(playheadAt(ptsUs, 90_000, loop)).toEqual({ index: 1, us: 40_000, isOver: false });
    expect(playheadAt(ptsUs, 90_000 + 5 * 50_000 + 12_000, loop)).toMatchObject({ index: 2 });
  });

  test('never leaves its loop and never ends in it', () => {
    const rising = fc
      .array(fc.integer({ min: 4_000, max: 200_000 }), { minLength: 2, maxLength: 60 })
      .map((gaps) => gaps.reduce((all, gap) => [...all, (all.at(-1) ?? 0) + gap], [0]));
    fc.assert(
      fc.property(rising, fc.nat(), fc.nat(), fc.integer({ min: 0, max: 100_000_000 }), (table, a, b, us) => {
        const from = a % (table.length - 1);
        const to = from + 1 + (b % (table.length - 1 - from));
        const head = playheadAt(table, us, { from, to });
        expect(head.isOver).toBe(false);
        expect(head.index).toBeGreaterThanOrEqual(from);
        expect(head.index).toBeLessThanOrEqual(to);
        expect(table[head.index]).toBeLessThanOrEqual(head.us);
      }),
    );
  });
});
