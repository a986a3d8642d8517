import type { Pixel } from '../marks/geometry';
import { onGround, onPlaneAlong, type Camera } from './camera';
import { asRightHanded } from './camera-facts';
import type { Bats } from './field';
import type { JointName, MeasureName } from './names';
import { DEG, midway, sub, type Vec3 } from './vector';

/** Points of the hitter on one frame, in pixels. */
export type Points = Readonly<Partial<Record<JointName, { readonly x: number; readonly y: number }>>>;
type PerJoint = Readonly<Partial<Record<JointName, number>>>;

/** Everything a measure is made of. Each part is known only so well, and can be moved alone to see what that does. */
export interface Scene {
  readonly camera: Camera;
  readonly bats: Bats;
  /** Foot strike first; then further frames on which the stride foot is still down where it was. */
  readonly frames: readonly [Points, ...Points[]];
  /** Metres above the ground of points of the feet. */
  readonly heights: PerJoint;
  /** Metres to the third-base side by which a point lies beside the plane through the feet. */
  readonly depths: PerJoint;
}

/** Measures that one frame carries in space; the rest are times, or are always refused. */
export type SpaceMeasure = Extract<
  MeasureName,
  | 'stride-foot-openness'
  | 'stride-length'
  | 'head-ahead-of-belt'
  | 'front-knee-past-ankle'
  | 'trunk-lean'
  | 'shoulder-tilt'
>;

const STRIDE_FOOT = ['stride-heel', 'stride-toe'] as const;
const FEET = [...STRIDE_FOOT, 'rear-heel', 'rear-toe'] as const;

/** The points that each measure needs on the frame of foot strike. */
export const NEEDS: Record<SpaceMeasure, readonly JointName[]> = {
  'stride-foot-openness': STRIDE_FOOT,
  'stride-length': FEET,
  'head-ahead-of-belt': [...FEET, 'head', 'belt'],
  'front-knee-past-ankle': [...FEET, 'front-knee', 'front-ankle'],
  'trunk-lean': [...FEET, 'belt', 'front-shoulder', 'rear-shoulder'],
  'shoulder-tilt': [...FEET, 'front-shoulder', 'rear-shoulder'],
};

const pixelOf = (points: Points, name: JointName): Pixel | null => {
  const at = points[name];
  return at ? [at.x, at.y] : null;
};

const footPoint = (scene: Scene, points: Points, name: JointName): Vec3 | null => {
  const pixel = pixelOf(points, name);
  const found = pixel && onGround(scene.camera, pixel, scene.heights[name] ?? 0);
  return found && asRightHanded(found, scene.bats);
};

interface Foot {
  readonly heel: Vec3;
  readonly toe: Vec3;
}

const footOn = (scene: Scene, points: Points, foot: 'stride' | 'rear'): Foot | null => {
  const heel = footPoint(scene, points, `${foot}-heel`);
  const toe = footPoint(scene, points, `${foot}-toe`);
  return heel && toe && { heel, toe };
};

const mean = (points: readonly Vec3[]): Vec3 => {
  const total = points.reduce((sum, p) => [sum[0] + p[0], sum[1] + p[1], sum[2] + p[2]] as const, [
    0, 0, 0,
  ] as const);
  return [total[0] / points.length, total[1] / points.length, total[2] / points.length];
};

/** The stride foot over every frame on which it is down, in metres of a right-handed hitter's frame. */
export const strideFoot = (scene: Scene): Foot | null => {
  const feet = scene.frames.map((points) => footOn(scene, points, 'stride')).filter((foot) => foot !== null);
  if (feet.length === 0) return null;
  return { heel: mean(feet.map((foot) => foot.heel)), toe: mean(feet.map((foot) => foot.toe)) };
};

/** The rear foot at foot strike. */
export const rearFoot = (scene: Scene): Foot | null => footOn(scene, scene.frames[0], 'rear');

/** The middle of a foot. */
export const middleOf = (foot: Foot): Vec3 => midway(foot.heel, foot.toe);

/** The middle between the two feet, in metres of a right-handed hitter's frame. */
export const betweenFeet = (scene: Scene): Vec3 | null => {
  const stride = strideFoot(scene);
  const rear = rearFoot(scene);
  return stride && rear && midway(middleOf(stride), middleOf(rear));
};

// A point of the body, taken to lie in the upright plane along the pitcher line through the middle of the feet.
const inPlane = (scene: Scene, name: JointName): Vec3 | null => {
  const middle = betweenFeet(scene);
  const pixel = pixelOf(scene.frames[0], name);
  if (!middle || !pixel) return null;
  const [, y] = asRightHanded(middle, scene.bats);
  return onPlaneAlong(scene.camera, pixel, y + (scene.depths[name] ?? 0));
};

const difference = (scene: Scene, from: JointName, to: JointName): Vec3 | null => {
  const a = inPlane(scene, from);
  const b = inPlane(scene, to);
  return a && b && sub(b, a);
};

const CENTIMETRES = 100;

/**
 * The value of each measure in degrees or centimetres; null when a point is missing or its line of sight never gets to
 * the ground or the plane. Zero, sign and plane are those of `MEASURE_MEANING`.
 */
export const QUANTITIES: Record<SpaceMeasure, (scene: Scene) => number | null> = {
  'stride-foot-openness': (scene) => {
    const foot = strideFoot(scene);
    if (!foot) return null;
    const [x, y] = sub(foot.toe, foot.heel);
    return Math.atan2(x, -y) / DEG;
  },
  'stride-length': (scene) => {
    const stride = strideFoot(scene);
    const rear = rearFoot(scene);
    if (!stride || !rear) return null;
    const [x, y] = sub(middleOf(stride), middleOf(rear));
    return Math.hypot(x, y) * CENTIMETRES;
  },
  'head-ahead-of-belt': (scene) => {
    const away = difference(scene, 'belt', 'head');
    return away && away[0] * CENTIMETRES;
  },
  'front-knee-past-ankle': (scene) => {
    const away = difference(scene, 'front-ankle', 'front-knee');
    return away && away[0] * CENTIMETRES;
  },
  'trunk-lean': (scene) => {
    const front = difference(scene, 'belt', 'front-shoulder');
    const rear = difference(scene, 'belt', 'rear-shoulder');
    if (!front || !rear) return null;
    return Math.atan2(front[0] + rear[0], front[2] + rear[2]) / DEG;
  },
  'shoulder-tilt': (scene) => {
    const line = difference(scene, 'rear-shoulder', 'front-shoulder');
    return line && Math.atan2(line[2], line[0]) / DEG;
  },
};

/** The unit of each measure; angles are compared round the circle. */
export const UNIT: Record<SpaceMeasure, 'deg' | 'cm'> = {
  'stride-foot-openness': 'deg',
  'stride-length': 'cm',
  'head-ahead-of-belt': 'cm',
  'front-knee-past-ankle': 'cm',
  'trunk-lean': 'deg',
  'shoulder-tilt': 'deg',
};
