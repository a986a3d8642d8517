import type { Body } from './body';
import type { Axes } from './pose';
import { across, along, cross, DEG, distance, dot, scale, sub, turned, unit, UP, type Vec3 } from './vec';

/** The level direction that is `openness` degrees from square to the plate, for a right-handed hitter. */
export const heading = (openness: number): Vec3 => [Math.sin(openness * DEG), -Math.cos(openness * DEG), 0];

/** Right-angled axes with the given up, turned as near to `front` as that allows. */
export function axesOf(front: Vec3, up: Vec3): Axes {
  const u = unit(up);
  const lead = unit(cross(u, front));
  return { up: u, lead, front: cross(lead, u) };
}

/** Two bones of fixed length from `root` to `end`, bent toward `pole`; an end out of reach is drawn in. */
export function twoBones(root: Vec3, end: Vec3, first: number, second: number, pole: Vec3) {
  const reach = (first + second) * 0.9995;
  const gap = Math.min(distance(root, end), reach);
  const line = unit(sub(end, root));
  const foot = (first * first - second * second + gap * gap) / (2 * gap);
  const height = Math.sqrt(Math.max(0, first * first - foot * foot));
  const bend = unit(across(pole, line));
  return { middle: along(root, [line, foot], [bend, height]), end: along(root, [line, gap]), bend };
}

/** Points of one foot, and where it points. */
export interface Foot {
  ball: Vec3;
  ankle: Vec3;
  heel: Vec3;
  toe: Vec3;
  forward: Vec3;
}

/** A foot that hinges at its ball: the heel lifts by `heelLift` degrees, the toes stay flat near the ground. */
export function footOf(body: Body, ball: Vec3, openness: number, heelLift: number): Foot {
  const forward = heading(openness);
  const side = cross(UP, forward);
  const sole = turned(forward, side, heelLift * DEG);
  const lift = turned(UP, side, heelLift * DEG);
  const droop = Math.min(1, ball[2] / (body.toes * 2)) * 0.4 * heelLift * DEG;
  const toeLine = turned(forward, side, droop);
  const heel = along(ball, [sole, -body.rearFoot]);
  return {
    ball,
    forward,
    heel,
    ankle: along(ball, [sole, -body.rearFoot * 0.68], [lift, body.ankleHeight]),
    toe: along(ball, [toeLine, body.toes]),
  };
}

/** Lowers the hips until both ankles are within reach of legs that never quite lock. */
export function lowered(
  hips: (pelvis: Vec3) => readonly [Vec3, Vec3],
  pelvis: Vec3,
  ankles: readonly [Vec3, Vec3],
  leg: number,
): Vec3 {
  let at = pelvis;
  for (let round = 0; round < 40; round++) {
    const [lead, trail] = hips(at);
    const over = Math.max(distance(lead, ankles[0]), distance(trail, ankles[1])) - leg * 0.997;
    if (over <= 0) return at;
    at = [at[0], at[1], at[2] - over * 1.05 - 1e-5];
  }
  return at;
}

/** A palm's length from the grip toward the forearm, never straight along the bat. */
export function wristOf(grip: Vec3, shoulder: Vec3, bat: Vec3, palm: number): Vec3 {
  const back = unit(sub(shoulder, grip));
  return along(grip, [unit(sub(back, scale(bat, dot(back, bat) * 0.75))), palm]);
}
