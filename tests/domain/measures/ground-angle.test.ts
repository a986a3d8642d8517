import { describe, expect, it } from 'vitest';
import type { Camera } from '@/lib/domain/measures/camera';
import { onGround, project } from '@/lib/domain/measures/camera';
import { groundAngle } from '@/lib/domain/measures/ground-angle';
import { DEG, type Vec3 } from '@/lib/domain/measures/vector';

/** Four metres from the plate on the first-base side, 1.3 m up, looking level at the third-base side. */
const CAMERA: Camera = {
  width: 1280,
  height: 720,
  focal: 1200,
  position: [0.4, -4, 1.3],
  right: [1, 0, 0],
  down: [0, 0, -1],
  forward: [0, 1, 0],
};
const HEEL: Vec3 = [0.25, 0.9, 0];
const toeAt = (openness: number, side: 1 | -1): Vec3 => [
  HEEL[0] + 0.26 * Math.sin(openness * DEG),
  side * (HEEL[1] - 0.26 * Math.cos(openness * DEG)),
  0,
];
const pixel = (point: Vec3) => project(CAMERA, point)!;
/** Degrees of openness of a drawn line, taken back to the ground. */
const opennessOf = (line: readonly { x: number; y: number }[], side: 1 | -1) => {
  const [from, to] = [line[0]!, line.at(-1)!].map((p) =>
    onGround(CAMERA, [p.x * CAMERA.width, p.y * CAMERA.height])!,
  ) as [Vec3, Vec3];
  return Math.atan2(to[0] - from[0], -side * (to[1] - from[1])) / DEG;
};

describe('the stride foot’s turn drawn on the ground', () => {
  it.each([
    ['right', 1, 58],
    ['left', -1, 58],
    ['right', 1, -8],
  ] as const)('for a %s-handed hitter lies where the ground has it', (bats, side, openness) => {
    const heel: Vec3 = [HEEL[0], side * HEEL[1], 0];
    const angle = groundAngle(CAMERA, bats, pixel(heel), pixel(toeAt(openness, side)), 45)!;
    expect(opennessOf(angle.foot, side)).toBeCloseTo(openness, 6);
    expect(opennessOf(angle.square, side)).toBeCloseTo(0, 6);
    expect(opennessOf(angle.target!, side)).toBeCloseTo(45, 6);
    const [heelX, heelY] = pixel(heel);
    expect(angle.foot[0]).toEqual({ x: expect.closeTo(heelX / 1280, 9), y: expect.closeTo(heelY / 720, 9) });
  });

  it('runs its arc from square to the foot, bent as the ground is', () => {
    const angle = groundAngle(CAMERA, 'right', pixel(HEEL), pixel(toeAt(60, 1)), null)!;
    const spread = angle.arc.slice(1).map((p) => opennessOf([angle.foot[0]!, p], 1));
    expect(spread.at(-1)).toBeCloseTo(60, 6);
    expect([...spread].sort((a, b) => a - b)).toEqual(spread);
    expect(angle.target).toBeNull();
  });

  it('is not drawn for a point at or above the horizon, nor for one and the same point', () => {
    expect(groundAngle(CAMERA, 'right', [600, 100], pixel(HEEL), null)).toBeNull();
    expect(groundAngle(CAMERA, 'right', pixel(HEEL), pixel(HEEL), null)).toBeNull();
  });
});
