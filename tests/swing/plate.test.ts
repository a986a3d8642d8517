import { describe, expect, it } from 'vitest';
import { BALL_RADIUS, BOX, boxCorners, PLATE } from '../support/swing/plate';

const INCH = 0.0254;

// Official Baseball Rules 2.02 (formerly 1.05): a 17-inch square with two corners removed, so that one edge is
// 17 inches, two are 8½ and two 12. Vertices of the closed figure in inches, x to the pitcher, y to third base:
// (0,0) (8.5,±8.5) (17,±8.5). The slanted edges are then 12.02, which the rule rounds.
describe('home plate', () => {
  it('has the vertices of the rule book', () => {
    const inInches = PLATE.map(([x, y]) => [x / INCH, y / INCH]);
    const known = [
      [0, 0],
      [8.5, -8.5],
      [17, -8.5],
      [17, 8.5],
      [8.5, 8.5],
    ];
    inInches.forEach((corner, i) =>
      corner.forEach((value, k) => expect(value).toBeCloseTo(known[i]![k]!, 9)),
    );
  });

  it('has one edge of 17 inches, two of 8½ and two of 12', () => {
    const edges = PLATE.map(([x, y], i) => {
      const [nx, ny] = PLATE[(i + 1) % PLATE.length]!;
      return Math.hypot(nx - x, ny - y) / INCH;
    });
    expect(edges.map((edge) => Math.round(edge * 10) / 10)).toEqual([12, 8.5, 17, 8.5, 12]);
  });

  it('covers 216.75 square inches', () => {
    const twice = PLATE.reduce((sum, [x, y], i) => {
      const [nx, ny] = PLATE[(i + 1) % PLATE.length]!;
      return sum + x * ny - nx * y;
    }, 0);
    expect(twice / 2 / INCH ** 2).toBeCloseTo(216.75, 6);
  });
});

describe('batter’s boxes', () => {
  it('lie six inches from the plate on either side and mirror each other', () => {
    const third = boxCorners(1);
    const first = boxCorners(-1);
    expect(Math.min(...third.map(([, y]) => y)) / INCH).toBeCloseTo(8.5 + 6, 9);
    expect(third.map(([x, y]) => [x, -y]).sort()).toEqual(first.map(([x, y]) => [x, y]).sort());
    expect(BOX.width / INCH).toBeCloseTo(48, 9);
    expect(BOX.length / INCH).toBeCloseTo(72, 9);
  });
});

describe('balls', () => {
  it('has a baseball of 9 to 9¼ inches around', () => {
    // Official Baseball Rules 3.01.
    const around = (2 * Math.PI * BALL_RADIUS.baseball) / INCH;
    expect(around).toBeGreaterThanOrEqual(9);
    expect(around).toBeLessThanOrEqual(9.25);
  });
});
