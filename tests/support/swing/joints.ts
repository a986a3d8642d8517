import type { Body } from './body';
import type { Joints, Pose } from './pose';
import { add, along, mix, scale, sub, unit, type Vec3 } from './vec';

/** The named points of a pose, by the hitter's own left and right. */
export function jointsOf(body: Body, pose: Omit<Pose, 'joints' | 'ball'>, leadIsLeft: boolean): Joints {
  const { legs, arms, head, pelvis, chest } = pose;
  const left = leadIsLeft ? 'lead' : 'trail';
  const right = leadIsLeft ? 'trail' : 'lead';
  const hipCentre = mix(legs.lead.hip, legs.trail.hip, 0.5);
  const neck = along(mix(arms.lead.shoulder, arms.trail.shoulder, 0.5), [chest.up, 0.03 * body.stature]);
  const spine = unit(sub(neck, hipCentre));
  const skull = along(neck, [unit(add(scale(spine, 0.5), scale(head.up, 0.5))), body.neck]);
  const toLeft = leadIsLeft ? head.lead : scale(head.lead, -1);
  const h = body.head;
  const face = (out: number, side: number, up: number): Vec3 =>
    along(skull, [head.front, out * h], [toLeft, side * h], [head.up, up * h]);
  return {
    pelvis: hipCentre,
    neck,
    head: skull,
    nose: face(0.47, 0, -0.1),
    leftEye: face(0.39, 0.14, 0.04),
    rightEye: face(0.39, -0.14, 0.04),
    leftEar: face(-0.02, 0.34, 0),
    rightEar: face(-0.02, -0.34, 0),
    leftShoulder: arms[left].shoulder,
    rightShoulder: arms[right].shoulder,
    leftElbow: arms[left].elbow,
    rightElbow: arms[right].elbow,
    leftWrist: arms[left].wrist,
    rightWrist: arms[right].wrist,
    leftHip: legs[left].hip,
    rightHip: legs[right].hip,
    leftKnee: legs[left].knee,
    rightKnee: legs[right].knee,
    leftAnkle: legs[left].ankle,
    rightAnkle: legs[right].ankle,
    leftHeel: legs[left].heel,
    rightHeel: legs[right].heel,
    leftBall: legs[left].ball,
    rightBall: legs[right].ball,
    leftToe: legs[left].toe,
    rightToe: legs[right].toe,
    beltBuckle: along(
      hipCentre,
      [pelvis.up, 0.055 * body.stature],
      [pelvis.front, 0.066 * body.stature * body.girth],
    ),
    batKnob: pose.bat.knob,
    batTip: pose.bat.tip,
  };
}
