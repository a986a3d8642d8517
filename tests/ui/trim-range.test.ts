import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { moveHandle, proposedRange, SHORTEST } from '@/app/lessons/new/_send/trim-range';

const aClip = fc.integer({ min: 2 * SHORTEST, max: 1800 });

describe('the part of a clip that is kept', () => {
  it('begins as the last eight seconds of a long clip', () => {
    expect(proposedRange(340)).toEqual({ start: 260, end: 340 });
  });

  it('stays inside the clip and as long as a swing, wherever a handle is pulled', () => {
    const aPull = fc.record({
      handle: fc.constantFrom('start' as const, 'end' as const),
      to: fc.oneof(fc.integer({ min: -5000, max: 5000 }), fc.constant(Number.NaN)),
    });
    fc.assert(
      fc.property(aClip, fc.array(aPull, { maxLength: 20 }), (length, pulls) => {
        let range = proposedRange(length);
        for (const { handle, to } of pulls) {
          range = moveHandle(range, handle, to, length);
          expect(range.start).toBeGreaterThanOrEqual(0);
          expect(range.end).toBeLessThanOrEqual(length);
          expect(range.end - range.start).toBeGreaterThanOrEqual(SHORTEST);
        }
      }),
    );
  });

  it('moves only the handle that was pulled', () => {
    expect(moveHandle({ start: 100, end: 200 }, 'start', 120, 300)).toEqual({ start: 120, end: 200 });
    expect(moveHandle({ start: 100, end: 200 }, 'end', 250, 300)).toEqual({ start: 100, end: 250 });
  });

  it('takes a number that is no number as no pull', () => {
    expect(moveHandle({ start: 100, end: 200 }, 'start', Number.NaN, 300)).toEqual({ start: 100, end: 200 });
  });
});
