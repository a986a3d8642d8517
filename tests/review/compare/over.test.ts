import { describe, expect, test } from 'vitest';
import { groundHomography, project, type Camera } from '@/lib/domain/measures/camera';
import type { Vec3 } from '@/lib/domain/measures/vector';
import { mirrorMark } from '@/lib/domain/marks/reshape';
import {
  carry,
  carryPoint,
  cssTransform,
  fitOver,
  groundOver,
  type Projection,
} from '@/lib/review/compare/over';
import { camera, HD } from '../../support/look-at';
import { buildMark } from '../../domain/marks/build-mark';

const TALL = { width: 720, height: 1280 };

const ground = (of: Camera) => groundHomography(of) as unknown as Projection;
const PLATE: Vec3[] = [
  [0, 0, 0],
  [0.216, 0.216, 0],
  [0.432, 0.216, 0],
  [0.432, -0.216, 0],
  [0.9, 0.7, 0],
];

describe('laid over by the ground', () => {
  const here = camera([0.4, -4.2, 1.35], [0.35, 0.7, 0.9], 1250);
  const there = camera([0.9, -3.4, 1.7], [0.3, 0.6, 0.8], 1000);

  test('every place on the ground of one picture lies on the same place of the other', () => {
    const over = groundOver({ first: ground(here), second: ground(there) }, HD, false)!;
    expect(over.by).toBe('ground');
    for (const place of PLATE) {
      const { at } = carry(over.map, project(there, place)!);
      const wanted = project(here, place)!;
      expect(Math.hypot(at[0] - wanted[0], at[1] - wanted[1])).toBeLessThan(1e-6);
    }
  });

  test('in a mirror the other box lies on this one: a lefty on a righty', () => {
    const lefty = camera([0.4, 4.2, 1.35], [0.35, -0.7, 0.9], 1250);
    const over = groundOver({ first: ground(here), second: ground(lefty) }, HD, true)!;
    for (const [x, y] of PLATE) {
      const { at } = carry(over.map, project(lefty, [x, -y, 0])!);
      const wanted = project(here, [x, y, 0])!;
      expect(Math.hypot(at[0] - wanted[0], at[1] - wanted[1])).toBeLessThan(1e-6);
    }
    // The same stand on the other side: the mirrored picture is the picture in a mirror.
    expect(carry(over.map, [100, 300]).at[0]).toBeCloseTo(1180, 6);
  });

  test('is the picture itself for one camera', () => {
    const { map } = groundOver({ first: ground(here), second: ground(here) }, HD, false)!;
    expect(carry(map, [321, 45]).at[0]).toBeCloseTo(321, 6);
    expect(carry(map, [321, 45]).at[1]).toBeCloseTo(45, 6);
  });

  test.each([
    ['from the side and from behind', camera([-4.5, 0.6, 1.4], [0.4, 0.6, 0.9], 1250)],
    ['from both sides', camera([0.4, 4.2, 1.35], [0.35, -0.7, 0.9], 1250)],
  ])('%s the picture would be torn: refused', (_what, other) => {
    expect(groundOver({ first: ground(here), second: ground(other) }, HD, false)).toBeNull();
  });

  test('numbers that are no camera are refused', () => {
    const nothing: Projection = [0, 0, 0, 0, 0, 0, 0, 0, 0];
    expect(groundOver({ first: ground(here), second: nothing }, HD, false)).toBeNull();
  });
});

describe('laid over whole', () => {
  test('the second picture stands in the middle of the first, as large as it fits', () => {
    const { map } = fitOver(HD, TALL, false);
    expect(carry(map, [0, 0]).at).toEqual([437.5, 0]);
    expect(carry(map, [720, 1280]).at).toEqual([842.5, 720]);
  });

  test('in a mirror left and right change places', () => {
    const { map } = fitOver(HD, HD, true);
    expect(carry(map, [0, 10]).at).toEqual([1280, 10]);
    expect(carryPoint(map, { x: 0.25, y: 0.5 }, HD, HD)).toEqual({ x: 0.75, y: 0.5 });
  });
});

test('as CSS it carries CSS pixels, read by the matrix of the standard', () => {
  const there = camera([0.9, -3.4, 1.7], [0.3, 0.6, 0.8], 1000);
  const here = camera([0.4, -4.2, 1.35], [0.35, 0.7, 0.9], 1250);
  const over = groundOver({ first: ground(here), second: ground(there) }, HD, false)!;
  const scale = 0.4;
  // CSS Transforms Module Level 2: matrix3d() lists its sixteen numbers column by column.
  const m = /matrix3d\((.*)\)/.exec(cssTransform(over, scale))![1]!.split(',').map(Number);
  const [x, y] = [700 * scale, 500 * scale];
  const w = m[3]! * x + m[7]! * y + m[15]!;
  const wanted = carry(over.map, [700, 500]).at;
  expect((m[0]! * x + m[4]! * y + m[12]!) / w).toBeCloseTo(wanted[0] * scale, 4);
  expect((m[1]! * x + m[5]! * y + m[13]!) / w).toBeCloseTo(wanted[1] * scale, 4);
});

test('a mark in a mirror lies on the other side and twice in a mirror where it was', () => {
  const mark = buildMark('arrow');
  const mirrored = mirrorMark(mark);
  expect(mirrored.points.map(({ x }) => x)).toEqual(mark.points.map(({ x }) => 1 - x));
  expect(mirrored.points.map(({ y }) => y)).toEqual(mark.points.map(({ y }) => y));
});
