import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  boundsOf,
  distance,
  distanceToMark,
  distanceToPath,
  distanceToSegment,
  midpoint,
  onScreenAngle,
  thinPath,
  type Pixel,
} from '@/lib/domain/marks/geometry';
import { aMark, aPoint, buildMark } from './build-mark';

const HD = { width: 1920, height: 1080 };
const SQUARE = { width: 1, height: 1 };
const aSize = fc.record({
  width: fc.integer({ min: 100, max: 4000 }),
  height: fc.integer({ min: 100, max: 4000 }),
});

describe('onScreenAngle', () => {
  // Euclid, Elements I.47 with its 3-4-5 triangle: the angle opposite the 3 is atan(3/4) = 36.8699 degrees.
  it('knows the 3-4-5 triangle', () => {
    const [a, b, c] = [
      { x: 0.4, y: 0 },
      { x: 0, y: 0 },
      { x: 0.4, y: 0.3 },
    ];
    expect(onScreenAngle(a, b, c, SQUARE)).toBeCloseTo(36.8699, 4);
    expect(onScreenAngle(b, a, c, SQUARE)).toBeCloseTo(90, 9);
  });

  it('takes the proportions of the picture into account', () => {
    // On 16:9 the diagonal of the picture rises atan(9/16) = 29.3578 degrees, not 45.
    expect(onScreenAngle({ x: 1, y: 0 }, { x: 0, y: 0 }, { x: 1, y: 1 }, HD)).toBeCloseTo(29.3578, 4);
  });

  // Flexion F seen with its plane turned by phi from the picture: 2 atan(tan(F/2) cos phi), orthographic. The project's
  // own table: a true 40 degrees looks like 38.7, 35.0, 28.9, 20.6 and 16.2 at 15, 30, 45, 60 and 67 degrees.
  it.each([
    [15, 38.7],
    [30, 35.0],
    [45, 28.9],
    [60, 20.6],
    [67, 16.2],
  ])('reads less than the real bend of a knee turned away by %d degrees', (turned, seen) => {
    const half = Math.tan((20 * Math.PI) / 180);
    const squeezed = half * Math.cos((turned * Math.PI) / 180);
    const [hip, knee, ankle] = [
      { x: 0.5, y: 0.1 },
      { x: 0.5 + 0.4 * squeezed, y: 0.5 },
      { x: 0.5, y: 0.9 },
    ];
    const included = onScreenAngle(hip, knee, ankle, SQUARE);
    expect(included).not.toBeNull();
    expect(180 - included!).toBeCloseTo(seen, 1);
  });

  it('has no answer for an arm without length', () => {
    const p = { x: 0.5, y: 0.5 };
    expect(onScreenAngle(p, p, { x: 1, y: 1 }, HD)).toBeNull();
    expect(onScreenAngle({ x: 1, y: 1 }, p, p, HD)).toBeNull();
  });

  it('does not care which arm is named first, and stays within 0 and 180', () => {
    fc.assert(
      fc.property(aPoint(), aPoint(), aPoint(), aSize, (a, b, c, size) => {
        const angle = onScreenAngle(a, b, c, size);
        expect(onScreenAngle(c, b, a, size)).toBe(angle);
        if (angle !== null) {
          expect(angle).toBeGreaterThanOrEqual(0);
          expect(angle).toBeLessThanOrEqual(180);
        }
      }),
    );
  });

  it('keeps its value when the picture is mirrored or shown larger', () => {
    fc.assert(
      fc.property(aPoint(), aPoint(), aPoint(), aSize, (a, b, c, size) => {
        const angle = onScreenAngle(a, b, c, size);
        fc.pre(angle !== null);
        const flip = (p: { x: number; y: number }) => ({ x: 1 - p.x, y: p.y });
        expect(onScreenAngle(flip(a), flip(b), flip(c), size)).toBeCloseTo(angle!, 6);
        expect(onScreenAngle(a, b, c, { width: size.width * 3, height: size.height * 3 })).toBeCloseTo(
          angle!,
          6,
        );
      }),
    );
  });

  it('adds up to 180 degrees over a triangle', () => {
    fc.assert(
      fc.property(aPoint(), aPoint(), aPoint(), aSize, (a, b, c, size) => {
        const angles = [
          onScreenAngle(a, b, c, size),
          onScreenAngle(b, c, a, size),
          onScreenAngle(c, a, b, size),
        ];
        fc.pre(angles.every((x) => x !== null));
        expect(angles.reduce<number>((sum, x) => sum + x!, 0)).toBeCloseTo(180, 6);
      }),
    );
  });
});

describe('distances', () => {
  it('measures in picture pixels', () => {
    expect(distance({ x: 0, y: 0 }, { x: 300 / 1920, y: 400 / 1080 }, HD)).toBeCloseTo(500, 9);
    expect(midpoint({ x: 0, y: 0.2 }, { x: 1, y: 0.4 })).toEqual({ x: 0.5, y: expect.closeTo(0.3, 9) });
  });

  it('goes to the nearest place of a stretch, not of its line', () => {
    expect(distanceToSegment([5, 3], [0, 0], [10, 0])).toBe(3);
    expect(distanceToSegment([13, 4], [0, 0], [10, 0])).toBe(5);
    expect(distanceToSegment([-3, -4], [0, 0], [10, 0])).toBe(5);
    expect(distanceToSegment([3, 4], [0, 0], [0, 0])).toBe(5);
    expect(
      distanceToPath(
        [5, 3],
        [
          [0, 0],
          [10, 0],
          [10, 10],
        ],
      ),
    ).toBe(3);
    expect(distanceToPath([5, 3], [])).toBe(Infinity);
  });

  it('is zero on every point that a mark is drawn through', () => {
    fc.assert(
      fc.property(aMark(), aSize, (mark, size) => {
        const onIt = mark.kind === 'circle' ? [mark.points[1]] : mark.points;
        for (const p of onIt) expect(distanceToMark(mark, p, size)).toBeCloseTo(0, 6);
      }),
    );
  });

  it('finds a ring by its edge, not by its middle', () => {
    const ring = buildMark('circle', {
      points: [
        { x: 0.5, y: 0.5 },
        { x: 0.5 + 100 / 1920, y: 0.5 },
      ],
    });
    expect(distanceToMark(ring, { x: 0.5, y: 0.5 }, HD)).toBeCloseTo(100, 6);
    expect(distanceToMark(ring, { x: 0.5, y: 0.5 + 90 / 1080 }, HD)).toBeCloseTo(10, 6);
  });

  it('bounds hold every point, and the whole ring', () => {
    fc.assert(
      fc.property(aMark(), aSize, (mark, size) => {
        const box = boundsOf(mark, size);
        for (const p of mark.points) {
          expect(p.x * size.width).toBeGreaterThanOrEqual(box.left - 1e-6);
          expect(p.x * size.width).toBeLessThanOrEqual(box.right + 1e-6);
          expect(p.y * size.height).toBeGreaterThanOrEqual(box.top - 1e-6);
          expect(p.y * size.height).toBeLessThanOrEqual(box.bottom + 1e-6);
        }
      }),
    );
    const ring = buildMark('circle', {
      points: [
        { x: 0.5, y: 0.5 },
        { x: 0.6, y: 0.5 },
      ],
    });
    expect(boundsOf(ring, { width: 100, height: 50 })).toEqual({
      left: expect.closeTo(40, 6),
      top: expect.closeTo(15, 6),
      right: expect.closeTo(60, 6),
      bottom: expect.closeTo(35, 6),
    });
  });
});

describe('thinPath', () => {
  const aPixel = fc.tuple(fc.integer({ min: 0, max: 500 }), fc.integer({ min: 0, max: 500 }));

  it('keeps both ends and stays within its tolerance', () => {
    fc.assert(
      fc.property(
        fc.array(aPixel, { minLength: 2, maxLength: 80 }),
        fc.integer({ min: 1, max: 20 }),
        (path, tolerance) => {
          const thin = thinPath(path, tolerance);
          expect(thin[0]).toEqual(path[0]);
          expect(thin.at(-1)).toEqual(path.at(-1));
          for (const p of path) expect(distanceToPath(p, thin)).toBeLessThanOrEqual(tolerance + 1e-9);
        },
      ),
    );
  });

  it('needs two points for a straight run, one for a dot', () => {
    const straight = Array.from({ length: 50 }, (_, i): Pixel => [i, 2 * i]);
    expect(thinPath(straight, 0.5)).toEqual([
      [0, 0],
      [49, 98],
    ]);
    expect(thinPath([[3, 3]], 1)).toEqual([[3, 3]]);
    expect(thinPath([], 1)).toEqual([]);
  });

  it('keeps a path of twenty thousand jagged points under the limit', () => {
    const jagged = Array.from({ length: 20_000 }, (_, i): Pixel => [i / 100, (i * 7919) % 37]);
    const thin = thinPath(jagged, 0.1, 2000);
    expect(thin.length).toBeLessThanOrEqual(2000);
    expect(thin.length).toBeGreaterThanOrEqual(2);
  });
});
