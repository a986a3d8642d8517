import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clampPoint, moveMark, reshapeMark } from '@/lib/domain/marks/reshape';
import { parseMark } from '@/lib/domain/marks/parse-mark';
import { aMark, buildMark } from './build-mark';

const aShift = fc.record({
  x: fc.double({ min: -3, max: 3, noNaN: true }),
  y: fc.double({ min: -3, max: 3, noNaN: true }),
});

describe('moveMark', () => {
  it('keeps the form and stays storable, however far it is pushed', () => {
    fc.assert(
      fc.property(aMark(), aShift, (mark, by) => {
        const moved = moveMark(mark, by);
        expect(parseMark(moved)).toEqual(moved);
        for (const [i, p] of mark.points.entries()) {
          expect(moved.points[i]!.x - moved.points[0]!.x).toBeCloseTo(p.x - mark.points[0]!.x, 9);
          expect(moved.points[i]!.y - moved.points[0]!.y).toBeCloseTo(p.y - mark.points[0]!.y, 9);
        }
      }),
    );
  });

  it('moves by what it was told inside the picture', () => {
    const moved = moveMark(buildMark('text', { points: [{ x: 0.4, y: 0.2 }] }), { x: 0.1, y: -0.05 });
    expect(moved.points[0]).toEqual({ x: expect.closeTo(0.5, 9), y: expect.closeTo(0.15, 9) });
  });
});

describe('reshapeMark', () => {
  it('moves the one point it was asked to, and nothing else', () => {
    const before = buildMark('angle');
    const after = reshapeMark(before, 2, { x: 0.9, y: 0.9 });
    expect(after.points).toEqual([before.points[0], before.points[1], { x: 0.9, y: 0.9 }]);
    expect({ ...after, points: null }).toEqual({ ...before, points: null });
  });

  it('tells two points at one place apart', () => {
    const p = { x: 0.5, y: 0.5 };
    expect(reshapeMark(buildMark('line', { points: [p, p] }), 1, { x: 0.6, y: 0.5 }).points).toEqual([
      p,
      { x: 0.6, y: 0.5 },
    ]);
  });

  it('keeps a plumb line upright, whichever end is taken', () => {
    const plumb = buildMark('plumb', {
      points: [
        { x: 0.5, y: 0.1 },
        { x: 0.5, y: 0.6 },
      ],
    });
    expect(reshapeMark(plumb, 1, { x: 0.7, y: 0.8 }).points).toEqual([
      { x: 0.7, y: 0.1 },
      { x: 0.7, y: 0.8 },
    ]);
    expect(reshapeMark(plumb, 0, { x: 0.2, y: 0.3 }).points).toEqual([
      { x: 0.2, y: 0.3 },
      { x: 0.2, y: 0.6 },
    ]);
  });

  it('moves a ring whole when it is taken by its middle', () => {
    const ring = buildMark('circle', {
      points: [
        { x: 0.5, y: 0.5 },
        { x: 0.6, y: 0.5 },
      ],
    });
    const moved = reshapeMark(ring, 0, { x: 0.3, y: 0.4 });
    expect(moved.points[1]).toEqual({ x: expect.closeTo(0.4, 9), y: expect.closeTo(0.4, 9) });
  });

  it('always answers a mark that can be stored', () => {
    fc.assert(
      fc.property(aMark(), fc.nat(4), aShift, (mark, index, to) => {
        const next = reshapeMark(mark, index, to);
        expect(parseMark(next)).toEqual(next);
      }),
    );
  });

  it('leaves a mark alone where it has no such point', () => {
    const line = buildMark('line');
    expect(reshapeMark(line, 5, { x: 0, y: 0 })).toBe(line);
    const scribble = buildMark('freehand');
    expect(reshapeMark(scribble, 0, { x: 0, y: 0 })).toBe(scribble);
  });

  it('clamps to where points may lie', () => {
    expect(clampPoint({ x: -9, y: 9 })).toEqual({ x: -0.5, y: 1.5 });
  });
});
