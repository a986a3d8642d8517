import fc from 'fast-check';
import { expect, test } from 'vitest';
import { framesWorthReady, limitsFor } from '@/lib/review/media/decode-window';

test('the direction of travel comes first, by distance, then a few on the other side', () => {
  expect(framesWorthReady(10, -1, 100, { ahead: 4, behind: 2 })).toEqual([9, 8, 7, 6, 11, 12]);
  expect(framesWorthReady(10, 1, 100, { ahead: 3, behind: 1 })).toEqual([11, 12, 13, 9]);
  expect(framesWorthReady(10, 0, 100, { ahead: 4, behind: 2 })).toEqual([11, 12, 9, 8]);
});

test('never leaves the clip, never names the frame itself, never twice', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 500 }).chain((frameCount) =>
        fc.record({
          frameCount: fc.constant(frameCount),
          index: fc.integer({ min: 0, max: frameCount - 1 }),
        }),
      ),
      fc.constantFrom(-1 as const, 0 as const, 1 as const),
      fc.record({ ahead: fc.nat(30), behind: fc.nat(30) }),
      ({ frameCount, index }, direction, limits) => {
        const window = framesWorthReady(index, direction, frameCount, limits);
        expect(new Set(window).size).toBe(window.length);
        expect(window.every((at) => at >= 0 && at < frameCount && at !== index)).toBe(true);
      },
    ),
  );
});

test('window and run-in together fit the cache, so that the work ends', () => {
  fc.assert(
    fc.property(fc.integer({ min: 3, max: 500 }), (capacity) => {
      const { ahead, behind, runIn } = limitsFor(capacity);
      expect(ahead + behind + runIn).toBeLessThanOrEqual(capacity);
    }),
  );
});
