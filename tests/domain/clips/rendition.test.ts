import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CLIP_FAULTS } from '@/lib/domain/clips/clip';
import { canTryAgain, factsOfFault } from '@/lib/domain/clips/clip-faults';
import {
  captureRate,
  medianRate,
  renditionSize,
  risingTick,
  ticksToMicroseconds,
} from '@/lib/domain/clips/rendition';
import { spreadFrames, tileNearest } from '@/lib/domain/clips/strip';

describe('the size of the rendition', () => {
  test.each([
    [3840, 2160, 1280, 720],
    [1080, 1920, 720, 1280],
    [320, 180, 320, 180],
    [255, 143, 254, 142],
    [1, 1, 2, 2],
  ])('%i x %i becomes %i x %i', (width, height, w, h) => {
    expect(renditionSize(width, height)).toEqual({ width: w, height: h });
  });

  test('is even, at most 720 on the short side, and never larger', () => {
    const side = fc.integer({ min: 2, max: 8192 });
    fc.assert(
      fc.property(side, side, (width, height) => {
        const size = renditionSize(width, height);
        expect(size.width % 2).toBe(0);
        expect(size.height % 2).toBe(0);
        expect(Math.min(size.width, size.height)).toBeLessThanOrEqual(720);
        expect(size.width).toBeLessThanOrEqual(width);
        expect(size.height).toBeLessThanOrEqual(height);
      }),
    );
  });
});

describe('ticks', () => {
  test('become microseconds exactly: NTSC frame 15 is 500500 us (15 x 1001/30000 s)', () => {
    expect(ticksToMicroseconds(15n * 1001n, { num: 1, den: 30_000 })).toBe(500_500);
    expect(ticksToMicroseconds(1n, { num: 1, den: 3 })).toBe(333_333);
    expect(ticksToMicroseconds(2n, { num: 1, den: 3 })).toBe(666_667);
    expect(ticksToMicroseconds(1n, { num: 1, den: 2_000_000 })).toBe(1);
  });
  test('are at most half a microsecond off', () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: 0n, max: 10n ** 9n }),
        fc.integer({ min: 1, max: 10 ** 6 }),
        (ticks, den) => {
          const microseconds = BigInt(ticksToMicroseconds(ticks, { num: 1, den }));
          const off = 2n * (microseconds * BigInt(den) - ticks * 1_000_000n);
          expect(off <= BigInt(den) && off >= -BigInt(den)).toBe(true);
        },
      ),
    );
  });
  test('are made to rise, whatever a broken recorder wrote, and good ones stay', () => {
    fc.assert(
      fc.property(fc.array(fc.option(fc.bigInt({ min: 0n, max: 50n })), { minLength: 1 }), (told) => {
        let before: bigint | null = null;
        for (const tick of told) {
          const next: bigint = risingTick(tick, before);
          if (before !== null) expect(next > before).toBe(true);
          if (tick !== null && (before === null || tick > before)) expect(next).toBe(tick);
          before = next;
        }
      }),
    );
  });
});

describe('rates', () => {
  test('of a steady file are exact, also where the container counts milliseconds', () => {
    const at = (den: number) => Array.from({ length: 60 }, (_, i) => Math.round((i * 1e6) / den));
    expect(medianRate(at(240))).toBe(240);
    const inMilliseconds = Array.from({ length: 61 }, (_, i) => Math.round((i * 1000) / 30) * 1000);
    expect(medianRate(inMilliseconds)).toBe(30);
  });
  test('of a file with a pause are those of its usual step', () => {
    expect(medianRate([0, 40_000, 80_000, 120_000, 2_120_000])).toBe(25);
    expect(medianRate([0])).toBeNull();
  });
  test('are taken from what the phone wrote, else from the file, without being sure', () => {
    expect(captureRate({ 'com.android.capture.fps': '240.000000' }, 30)).toEqual({ rate: 240, isSure: true });
    expect(captureRate({ 'com.android.capture.fps': 'fast' }, 30)).toEqual({ rate: 30, isSure: false });
    expect(captureRate({ 'com.android.version': '14' }, 29.97)).toEqual({ rate: 29.97, isSure: false });
  });
});

describe('the strip', () => {
  test('shows first and last frame, rising, at most as many as asked for', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5000 }), fc.integer({ min: 2, max: 60 }), (count, most) => {
        const frames = spreadFrames(count, most);
        expect(frames).toHaveLength(Math.min(count, most));
        expect(frames[0]).toBe(0);
        expect(frames.at(-1)).toBe(count - 1);
        expect(new Set(frames).size).toBe(frames.length);
      }),
    );
  });
  test('finds the tile that is nearest to a frame', () => {
    const strip = { version: 1 as const, cols: 3, rows: 1, tileWidth: 8, tileHeight: 8, frames: [0, 10, 20] };
    expect([0, 4, 6, 14, 16, 99].map((frame) => tileNearest(strip, frame))).toEqual([0, 0, 1, 1, 2, 2]);
  });
});

describe.each(CLIP_FAULTS)('the fault %s', (fault) => {
  const { forPeople, keepsOriginal } = factsOfFault(fault);
  test('tells what was kept and what to do, and promises no retry without an original', () => {
    expect(forPeople).toMatch(keepsOriginal ? /is kept/ : /not kept|nothing to keep/);
    expect(forPeople.split(/[.:] /).length).toBeGreaterThanOrEqual(2);
    if (canTryAgain(fault)) expect(keepsOriginal).toBe(true);
  });
});
