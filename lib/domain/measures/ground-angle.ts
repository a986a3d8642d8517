import type { Pixel } from '../marks/geometry';
import type { FramePoint } from '../marks/mark';
import { onGround, project, type Camera } from './camera';
import { sideOf, type Bats } from './field';
import { add, DEG, norm, scale, sub, type Vec3 } from './vector';

/** The stride foot's turn as it lies on the ground, drawn through the camera: runs of points as fractions of the picture. */
export interface GroundAngle {
  /** From the heel through the toe and a little past it. */
  readonly foot: readonly FramePoint[];
  /** Where a foot square to the pitcher line would point. */
  readonly square: readonly FramePoint[];
  /** Where the foot would point at the target; null without one. */
  readonly target: readonly FramePoint[] | null;
  /** From square to the foot. */
  readonly arc: readonly FramePoint[];
}

/** How much longer than the foot its line is drawn, and how far out the arc lies. */
const REACH = 2.3;
const ARC = 1.6;
const ARC_STEPS = 24;

/**
 * The turn of a foot on the ground, seen through the camera: heel and toe in pixels, `target` in degrees of openness
 * (0 square with the toe toward the plate, 90 at the pitcher). Null when heel or toe is not on the ground before the
 * camera or they are one point.
 */
export const groundAngle = (
  camera: Camera,
  bats: Bats,
  heel: Pixel,
  toe: Pixel,
  target: number | null,
): GroundAngle | null => {
  const [from, to] = [onGround(camera, heel), onGround(camera, toe)];
  if (!from || !to) return null;
  const foot = sub(to, from);
  const length = norm(foot);
  if (length < 1e-6) return null;
  const side = sideOf(bats);
  const openness = Math.atan2(foot[0], -side * foot[1]);
  const at = (angle: number, reach: number): Vec3 =>
    add(from, scale([Math.sin(angle), -side * Math.cos(angle), 0], reach * length));
  const seen = (points: readonly Vec3[]): FramePoint[] =>
    points.flatMap((point) => {
      const pixel = project(camera, point);
      return pixel ? [{ x: pixel[0] / camera.width, y: pixel[1] / camera.height }] : [];
    });
  return {
    foot: seen([from, at(openness, REACH)]),
    square: seen([from, at(0, REACH)]),
    target: target === null ? null : seen([from, at(target * DEG, REACH)]),
    arc: seen(Array.from({ length: ARC_STEPS + 1 }, (_, i) => at((openness * i) / ARC_STEPS, ARC))),
  };
};
