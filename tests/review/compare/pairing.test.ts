import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  finerSide,
  frameAtReal,
  isBeyond,
  momentsOf,
  otherSide,
  partnerFrame,
  realUsFromLock,
  type PairedClip,
} from '@/lib/review/compare/pairing';

const at = (rate: number, frames: number, lockedFrame: number, captureRate = rate): PairedClip => ({
  ptsUs: Array.from({ length: frames }, (_, frame) => Math.round((frame * 1e6) / rate)),
  stretch: captureRate / rate,
  lockedFrame,
});

/** A clip of any rate, steady or not, stretched or not. */
const aClip = fc
  .record({
    gaps: fc.array(fc.integer({ min: 1_000, max: 120_000 }), { minLength: 1, maxLength: 80 }),
    stretch: fc.constantFrom(1, 2, 4, 8, 0.5),
    lock: fc.nat(),
  })
  .map(({ gaps, stretch, lock }): PairedClip => {
    const ptsUs = gaps.reduce((all, gap) => [...all, (all.at(-1) ?? 0) + gap], [0]);
    return { ptsUs, stretch, lockedFrame: lock % ptsUs.length };
  });

describe('which frame goes with which', () => {
  test('240 beside 30 pictures a second: the nearest, not the last one before', () => {
    const fast = at(240, 120, 40);
    const slow = at(30, 96, 10);
    expect(partnerFrame(fast, 40, slow)).toBe(10);
    expect(partnerFrame(fast, 43, slow)).toBe(10); // 12.5 ms on: nearer to 10 than to 11, at 33.3 ms
    expect(partnerFrame(fast, 45, slow)).toBe(11); // 20.8 ms on: the last one before would be 10
    expect(partnerFrame(fast, 35, slow)).toBe(9);
    expect(partnerFrame(slow, 11, fast)).toBe(48);
  });

  test('slow motion counts by the rate at which it was taken', () => {
    const stretched = at(30, 96, 48, 240);
    const fast = at(240, 96, 20);
    for (const frame of [28, 47, 48, 49, 90]) expect(partnerFrame(stretched, frame, fast)).toBe(frame - 28);
    expect(realUsFromLock(stretched, 56)).toBeCloseTo(33_333.4, 0);
  });

  test('beyond its ends a clip stands on its first or last frame, and that is told', () => {
    const short = at(30, 10, 5);
    const long = at(30, 90, 45);
    expect(partnerFrame(long, 0, short)).toBe(0);
    expect(partnerFrame(long, 89, short)).toBe(9);
    expect(isBeyond(short, realUsFromLock(long, 0))).toBe('before');
    expect(isBeyond(short, realUsFromLock(long, 89))).toBe('after');
    expect(isBeyond(short, 0)).toBeNull();
    expect(isBeyond(short, realUsFromLock(short, 9) + 16_000)).toBeNull();
    expect(isBeyond(short, realUsFromLock(short, 9) + 17_000)).toBe('after');
  });

  test('no other frame of the partner is nearer, whatever rates, stretches and locks', () => {
    fc.assert(
      fc.property(aClip, aClip, fc.nat(), (of, other, any) => {
        const frame = any % of.ptsUs.length;
        const us = realUsFromLock(of, frame);
        const partner = partnerFrame(of, frame, other);
        const away = (index: number) => Math.abs(realUsFromLock(other, index) - us);
        const least = Math.min(...other.ptsUs.map((_, index) => away(index)));
        expect(away(partner)).toBeLessThanOrEqual(least + 1e-6);
      }),
    );
  });

  test('the locked frames are each other’s partners, and a clip beside itself goes with itself', () => {
    fc.assert(
      fc.property(aClip, aClip, (a, b) => {
        expect(partnerFrame(a, a.lockedFrame, b)).toBe(b.lockedFrame);
        expect(partnerFrame(b, b.lockedFrame, a)).toBe(a.lockedFrame);
        expect(a.ptsUs.map((_, frame) => partnerFrame(a, frame, a))).toEqual(
          a.ptsUs.map((_, frame) => frame),
        );
      }),
    );
  });

  test('the same swing written at another speed has the same partners', () => {
    fc.assert(
      fc.property(aClip, aClip, fc.constantFrom(2, 3, 8), (a, b, factor) => {
        const slower: PairedClip = {
          ...b,
          ptsUs: b.ptsUs.map((us) => us * factor),
          stretch: b.stretch * factor,
        };
        expect(a.ptsUs.map((_, frame) => partnerFrame(a, frame, slower))).toEqual(
          a.ptsUs.map((_, frame) => partnerFrame(a, frame, b)),
        );
      }),
    );
  });
});

describe('the steps of a pair', () => {
  test('are those of the clip with more pictures a second', () => {
    const fast = at(240, 120, 40);
    const slow = at(30, 96, 10);
    expect([finerSide(slow, fast), finerSide(fast, slow), finerSide(slow, slow)]).toEqual(['b', 'a', 'a']);
    const inside = momentsOf(slow, fast).filter(({ b }) => b > 0 && b < 119);
    expect(inside.map(({ b }) => b)).toEqual(Array.from({ length: 118 }, (_, frame) => frame + 1));
  });

  test('a single picture can stand beside a swing', () => {
    const still: PairedClip = { ptsUs: [0], stretch: 1, lockedFrame: 0 };
    const swing = at(60, 30, 12);
    expect(momentsOf(still, swing)).toHaveLength(30);
    expect(momentsOf(still, still)).toEqual([{ a: 0, b: 0, us: 0 }]);
  });

  test('rise in time, reach both ends of both clips, hold the lock and pair only nearest frames', () => {
    fc.assert(
      fc.property(aClip, aClip, (a, b) => {
        const moments = momentsOf(a, b);
        for (const [index, moment] of moments.entries()) {
          expect(moment.us).toBeGreaterThan(moments[index - 1]?.us ?? -Infinity);
          expect([moment.a, moment.b]).toEqual([frameAtReal(a, moment.us), frameAtReal(b, moment.us)]);
        }
        const reached = (side: 'a' | 'b') => new Set(moments.map((moment) => moment[side]));
        for (const [side, clip] of [
          ['a', a],
          ['b', b],
        ] as const) {
          const lead = finerSide(a, b) === side;
          const frames = clip.ptsUs.map((_, frame) => frame);
          if (lead) expect([...reached(side)].sort((x, y) => x - y)).toEqual(frames);
        }
        expect(moments).toContainEqual({ a: a.lockedFrame, b: b.lockedFrame, us: 0 });
      }),
    );
  });

  test('a clip that begins earlier and ends later is seen whole', () => {
    const fast = at(240, 24, 12);
    const slow = at(30, 96, 48);
    const moments = momentsOf(fast, slow);
    expect(moments[0]).toEqual({ a: 0, b: 0, us: -1_600_000 });
    expect(moments.at(-1)).toMatchObject({ a: 23, b: 95 });
    expect(new Set(moments.map(({ b }) => b)).size).toBe(96);
  });

  test('swapped clips have the same steps the other way round', () => {
    fc.assert(
      fc.property(aClip, aClip, (a, b) => {
        if (momentsOf(a, b).length === 0) return;
        const isEven = finerSide(a, b) === 'a' && finerSide(b, a) === 'a';
        if (isEven) return; // both as fine: each order may lead by its first clip
        expect(momentsOf(b, a).map((m) => ({ a: m.b, b: m.a, us: m.us }))).toEqual(momentsOf(a, b));
      }),
    );
  });

  test('each side has another', () => {
    expect([otherSide('a'), otherSide('b')]).toEqual(['b', 'a']);
  });
});
