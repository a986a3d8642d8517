import type { Vec3 } from './vec';

/** Points of a pose, named by the hitter's own left and right. */
export const JOINTS = [
  'pelvis',
  'neck',
  'head',
  'nose',
  'leftEye',
  'rightEye',
  'leftEar',
  'rightEar',
  'leftShoulder',
  'rightShoulder',
  'leftElbow',
  'rightElbow',
  'leftWrist',
  'rightWrist',
  'leftHip',
  'rightHip',
  'leftKnee',
  'rightKnee',
  'leftAnkle',
  'rightAnkle',
  'leftHeel',
  'rightHeel',
  'leftBall',
  'rightBall',
  'leftToe',
  'rightToe',
  'beltBuckle',
  'batKnob',
  'batTip',
] as const;
export type Joint = (typeof JOINTS)[number];
export type Joints = Readonly<Record<Joint, Vec3>>;

/** A right-angled set of directions: to the body part's front, to the side of the hitter's front shoulder, up. */
export interface Axes {
  front: Vec3;
  lead: Vec3;
  up: Vec3;
}

export interface Leg {
  hip: Vec3;
  knee: Vec3;
  ankle: Vec3;
  heel: Vec3;
  ball: Vec3;
  toe: Vec3;
  /** Where the knee points. */
  bend: Vec3;
}

export interface Arm {
  shoulder: Vec3;
  elbow: Vec3;
  wrist: Vec3;
  grip: Vec3;
  /** Where the elbow points. */
  bend: Vec3;
}

/** One instant of a swing in metres of the plate's frame. Lead is the side nearer the pitcher. */
export interface Pose {
  /** Seconds from contact. */
  time: number;
  joints: Joints;
  pelvis: Axes;
  chest: Axes;
  head: Axes;
  legs: { lead: Leg; trail: Leg };
  arms: { lead: Arm; trail: Arm };
  bat: { knob: Vec3; direction: Vec3; tip: Vec3; sweetSpot: Vec3 };
  ball: Vec3;
}
