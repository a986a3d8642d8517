import { describe, expect, it } from 'vitest';
import { BOX_CORNERS, boxMiddle, groundPoint, PLATE_CORNERS } from '@/lib/domain/measures/field';
import { FIELDS } from '@/lib/domain/measures/names';
import { project } from '@/lib/domain/measures/camera';
import { add, DEG, type Vec3 } from '@/lib/domain/measures/vector';

const INCH = 0.0254;
const inches = ([x, y, z]: Vec3) => [x / INCH, y / INCH, z / INCH];
const plate = PLATE_CORNERS.map((at) => groundPoint('baseball', 'right', at));
const edge = (a: Vec3, b: Vec3) => Math.hypot(b[0] - a[0], b[1] - a[1]) / INCH;

describe('home plate', () => {
  // Official Baseball Rules 2.02: a 17-inch square without two corners, so that one edge is 17 inches long, two are
  // 8½, and two (the rule rounds them to 12) meet at the point where the foul lines cross.
  it('is that of the rule book', () => {
    const [apex, sideThird, frontThird, frontFirst, sideFirst] = plate as [Vec3, Vec3, Vec3, Vec3, Vec3];
    expect(inches(apex)).toEqual([0, 0, 0]);
    expect(edge(frontThird, frontFirst)).toBeCloseTo(17, 9);
    expect(edge(sideThird, frontThird)).toBeCloseTo(8.5, 9);
    expect(edge(frontFirst, sideFirst)).toBeCloseTo(8.5, 9);
    // Computed: 8½ √2 = 12.021.
    expect(edge(apex, sideThird)).toBeCloseTo(12.021, 3);
    expect(edge(sideFirst, apex)).toBeCloseTo(12.021, 3);
  });

  it('has its corners where they are computed, in inches', () => {
    const expected = [
      [0, 0],
      [8.5, 8.5],
      [17, 8.5],
      [17, -8.5],
      [8.5, -8.5],
    ];
    plate.forEach((corner, i) => {
      const [x, y, z] = inches(corner) as [number, number, number];
      expect(x).toBeCloseTo(expected[i]![0]!, 9);
      expect(y).toBeCloseTo(expected[i]![1]!, 9);
      expect(z).toBe(0);
    });
  });

  it('covers 216.75 square inches', () => {
    const area = plate.reduce((sum, [x, y], i) => {
      const [nx, ny] = plate[(i + 1) % plate.length]!;
      return sum + x * ny - nx * y;
    }, 0);
    expect(Math.abs(area / 2) / INCH ** 2).toBeCloseTo(216.75, 6);
  });
});

describe('the batter’s box', () => {
  it.each(FIELDS)('of %s is a rectangle centred on the plate’s middle, on the hitter’s own side', (field) => {
    const at = (name: (typeof BOX_CORNERS)[number], bats: 'right' | 'left') => groundPoint(field, bats, name);
    for (const bats of ['right', 'left'] as const) {
      const side = bats === 'right' ? 1 : -1;
      const corners = BOX_CORNERS.map((name) => at(name, bats));
      expect(corners.every(([, y]) => side * y > 8.5 * INCH)).toBe(true);
      const middle = corners.reduce((sum, corner) => add(sum, corner), [0, 0, 0] as Vec3);
      expect(middle[0] / 4 / INCH).toBeCloseTo(8.5, 9);
      expect(boxMiddle(field, bats)[0] / INCH).toBeCloseTo(8.5, 9);
      expect(boxMiddle(field, bats)[1]).toBeCloseTo(middle[1] / 4, 9);
      expect(at('box-inner-front', bats)[0]).toBeGreaterThan(at('box-inner-rear', bats)[0]);
      expect(at('box-outer-front', bats)[0]).toBe(at('box-inner-front', bats)[0]);
      expect(Math.abs(at('box-outer-rear', bats)[1])).toBeGreaterThan(
        Math.abs(at('box-inner-rear', bats)[1]),
      );
    }
    for (const name of BOX_CORNERS) {
      const [x, y] = at(name, 'right');
      expect(at(name, 'left')).toEqual([x, -y, 0]);
    }
  });

  it('has a size of its own on each field', () => {
    const areas = FIELDS.map((field) => {
      const [a, b, c] = (['box-inner-front', 'box-inner-rear', 'box-outer-rear'] as const).map((name) =>
        groundPoint(field, 'right', name),
      );
      return Math.round((edge(a!, b!) / 12) * (edge(b!, c!) / 12));
    });
    // In square feet, from secondary pages: 4 by 6, 3 by 7, 3 by 6.
    expect(areas).toEqual([24, 21, 18]);
  });
});

describe('a foot on the picture', () => {
  // Published projection formula, seen = atan2(sin a · sin e, cos a): a foot turned by a from the pitcher line looks
  // less turned from a side camera raised by e. Computed table, orthographic.
  it.each([
    [20, 5, 1.8],
    [20, 15, 5.4],
    [45, 5, 5.0],
    [45, 10, 9.9],
    [45, 20, 18.9],
    [45, 30, 26.6],
    [67, 10, 22.2],
    [67, 20, 38.9],
    [67, 30, 49.7],
  ])('turned by %d degrees looks, from %d degrees up, like %d', (turn, elevation, seen) => {
    const e = elevation * DEG;
    const far = 5000;
    const camera = {
      width: 2000,
      height: 2000,
      focal: 2e7,
      position: [0, -far * Math.cos(e), far * Math.sin(e)] as Vec3,
      right: [1, 0, 0] as Vec3,
      down: [0, -Math.sin(e), -Math.cos(e)] as Vec3,
      forward: [0, Math.cos(e), -Math.sin(e)] as Vec3,
    };
    const heel = project(camera, [0, 0, 0])!;
    const toe = project(camera, [0.27 * Math.cos(turn * DEG), -0.27 * Math.sin(turn * DEG), 0])!;
    expect(Math.atan2(toe[1] - heel[1], toe[0] - heel[0]) / DEG).toBeCloseTo(seen, 1);
  });
});
