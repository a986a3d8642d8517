import { jointsOf } from './joints';
import { axesOf, footOf, heading, lowered, twoBones, wristOf, type Foot } from './limbs';
import { motionOf, type Motion } from './motion';
import type { Arm, Axes, Leg, Pose } from './pose';
import type { Hitter, Timing } from './style';
import {
  across,
  add,
  along,
  cross,
  DEG,
  distance,
  length,
  mirrored,
  mix,
  scale,
  sub,
  turned,
  unit,
  UP,
  type Vec3,
} from './vec';

/** A hitter's swing: the pose at any time in seconds from contact, and the instants it is made of. */
export interface Swing {
  hitter: Hitter;
  timing: Timing;
  /** Where the ball sits until it is hit. */
  ballAt: Vec3;
  poseAt: (time: number) => Pose;
}

/** Share of the bat from knob to tip where it meets the ball. */
const SWEET_SPOT = 0.83;
const BALL_SPEED = 30;
const BALL_LIFT = 13 * DEG;
const GRAVITY = 9.81;

function rightHanded(
  hitter: Hitter,
  motion: Motion,
  stand: Vec3,
  time: number,
): Omit<Pose, 'joints' | 'ball'> {
  const { body } = hitter;
  const m = motion;
  const calm = Math.max(0, Math.min(1, (m.timing.loadPeak - time) / 0.25));
  const waggle = Math.sin((time - m.timing.loadStart) * 5.2) * calm;

  const lead = footOf(
    body,
    add(stand, [m.frontFoot.x(time), 0, m.frontFoot.z(time)]),
    m.frontFoot.yaw(time),
    m.frontFoot.heel(time),
  );
  const trail = footOf(body, add(stand, [m.backFoot.x, 0, 0]), m.backFoot.yaw(time), m.backFoot.heel(time));

  const pelvisFront = heading(m.pelvis.yaw(time));
  const pelvis = axesOf(pelvisFront, [m.trunk.toPitcher(time) * 0.3, -m.trunk.toPlate(time) * 0.45, 1]);
  const hips = (p: Vec3) =>
    [along(p, [pelvis.lead, body.hipHalf]), along(p, [pelvis.lead, -body.hipHalf])] as const;
  const wanted = add(stand, [m.pelvis.x(time), m.pelvis.y(time), m.pelvis.z(time) + waggle * 0.004]);
  const hipCentre = lowered(hips, wanted, [lead.ankle, trail.ankle], body.thigh + body.shank);
  const [leadHip, trailHip] = hips(hipCentre);

  const legOf = (hip: Vec3, foot: Foot, other: Foot): Leg => {
    const inward = unit([other.ankle[0] - foot.ankle[0], other.ankle[1] - foot.ankle[1], 0]);
    const pole = unit(along(foot.forward, [inward, hitter.style.kneesIn]));
    const bones = twoBones(hip, foot.ankle, body.thigh, body.shank, pole);
    return {
      hip,
      knee: bones.middle,
      ankle: bones.end,
      heel: foot.heel,
      ball: foot.ball,
      toe: foot.toe,
      bend: bones.bend,
    };
  };

  const spine = unit([m.trunk.toPitcher(time), -m.trunk.toPlate(time), 1]);
  const neck = along(hipCentre, [spine, body.trunk]);
  const shoulderHeading = heading(m.trunk.yaw(time));
  const level = axesOf(shoulderHeading, spine);
  const chestLead = turned(level.lead, level.front, -m.trunk.tilt(time) * DEG);
  const chest: Axes = { front: level.front, lead: chestLead, up: cross(level.front, chestLead) };
  const collar = along(neck, [chest.up, -0.03 * body.stature]);
  const leadShoulder = along(collar, [chest.lead, body.shoulderHalf]);
  const trailShoulder = along(collar, [chest.lead, -body.shoulderHalf]);

  const gaze = heading(m.head.yaw(time));
  const down = m.head.down(time) * DEG;
  const head = axesOf(
    along(scale(gaze, Math.cos(down)), [UP, -Math.sin(down)]),
    along(scale(UP, Math.cos(down)), [gaze, Math.sin(down)]),
  );

  const direction = unit(add(m.bat(time), [waggle * 0.05, 0, waggle * -0.02]));
  const shoulderLine = cross(UP, shoulderHeading);
  const free = along(
    neck,
    [shoulderHeading, m.hands.out(time)],
    [shoulderLine, m.hands.forward(time)],
    [UP, m.hands.up(time) + waggle * 0.006],
  );
  const reach = body.upperArm + body.forearm;
  const spread = body.palm * 0.62;
  const gripsAt = (hands: Vec3) =>
    [along(hands, [direction, -spread]), along(hands, [direction, spread])] as const;
  let hands = free;
  for (let round = 0; round < 60; round++) {
    const [low, high] = gripsAt(hands);
    const pulls = (
      [
        [leadShoulder, low],
        [trailShoulder, high],
      ] as const
    ).map(([shoulder, grip]) => {
      const wrist = wristOf(grip, shoulder, direction, body.palm);
      return scale(unit(sub(shoulder, wrist)), Math.max(0, distance(shoulder, wrist) - reach * 0.992));
    });
    const pull = pulls.reduce((sum, p) => add(sum, p), [0, 0, 0] as Vec3);
    if (length(pull) < 1e-6) break;
    hands = add(hands, pull);
  }
  const [low, high] = gripsAt(hands);

  const through = m.through(time);
  const inChest = (v: Vec3): Vec3 =>
    along([0, 0, 0], [chest.front, v[0]], [chest.lead, v[1]], [chest.up, v[2]]);
  const armOf = (shoulder: Vec3, grip: Vec3, before: Vec3, after: Vec3): Arm => {
    const wrist = wristOf(grip, shoulder, direction, body.palm);
    const bones = twoBones(
      shoulder,
      wrist,
      body.upperArm,
      body.forearm,
      inChest(unit(mix(before, after, through))),
    );
    return { shoulder, elbow: bones.middle, wrist: bones.end, grip, bend: bones.bend };
  };
  const knob = along(hands, [direction, -spread - body.palm * 0.75]);
  return {
    time,
    pelvis,
    chest,
    head,
    legs: { lead: legOf(leadHip, lead, trail), trail: legOf(trailHip, trail, lead) },
    arms: {
      lead: armOf(leadShoulder, low, [0.25, 0.35, -0.9], [0.5, 0.75, -0.1]),
      trail: armOf(trailShoulder, high, [-0.25, -0.75, -0.62], [0.55, -0.35, -0.75]),
    },
    bat: {
      knob,
      direction,
      tip: along(knob, [direction, hitter.bat.length]),
      sweetSpot: along(knob, [direction, hitter.bat.length * SWEET_SPOT]),
    },
  };
}

const mapVectors = <T>(value: T, change: (v: Vec3) => Vec3): T => {
  if (Array.isArray(value)) return change(value as unknown as Vec3) as unknown as T;
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, mapVectors(item, change)])) as T;
};

/** The swing of a hitter, who stands so that the sweet spot meets the ball at time 0. */
export function swingOf(hitter: Hitter): Swing {
  const motion = motionOf(hitter);
  const atContact = rightHanded(hitter, motion, [0, 0, 0], 0).bat;
  const justBefore = rightHanded(hitter, motion, [0, 0, 0], -0.002).bat;
  const path = unit(across(sub(atContact.sweetSpot, justBefore.sweetSpot), atContact.direction));
  const meeting = along(atContact.sweetSpot, [path, hitter.bat.barrelRadius + hitter.ballRadius]);
  const stand: Vec3 = [hitter.ballAt[0] - meeting[0], hitter.ballAt[1] - meeting[1], 0];
  const rest: Vec3 = [hitter.ballAt[0], hitter.ballAt[1], meeting[2]];
  const left = hitter.bats === 'left';

  const ballAt = (time: number): Vec3 => {
    if (time <= 0) return rest;
    return [
      rest[0] + BALL_SPEED * Math.cos(BALL_LIFT) * time,
      rest[1] + 1.5 * time,
      Math.max(
        hitter.ballRadius,
        rest[2] + BALL_SPEED * Math.sin(BALL_LIFT) * time - (GRAVITY / 2) * time * time,
      ),
    ];
  };
  const poseAt = (time: number): Pose => {
    const right = { ...rightHanded(hitter, motion, stand, time), ball: ballAt(time) };
    const pose = left ? mapVectors(right, mirrored) : right;
    return { ...pose, joints: jointsOf(hitter.body, pose, !left) };
  };
  return { hitter, timing: motion.timing, ballAt: left ? mirrored(rest) : rest, poseAt };
}
