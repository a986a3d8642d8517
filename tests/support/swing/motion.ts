import { ADULT } from './body';
import { monotone, sweep, type DirectionKeys } from './curve';
import { timingOf, type Hitter, type Timing } from './style';
import type { Vec3 } from './vec';

type Curve = (t: number) => number;

/**
 * Every curve of a swing, for a right-handed hitter who stands at the origin. Values at: stance, load start,
 * load peak, full plant, launch, lag, contact, extension, wrap, finish. The shape of the movement is invented to
 * look like a sound swing; it is no data of any person.
 */
export interface Motion {
  timing: Timing;
  pelvis: { x: Curve; y: Curve; z: Curve; yaw: Curve };
  trunk: { toPitcher: Curve; toPlate: Curve; yaw: Curve; tilt: Curve };
  head: { yaw: Curve; down: Curve };
  /** From the base of the neck, in the shoulders' heading: to the chest's front, to the front shoulder, up. */
  hands: { out: Curve; forward: Curve; up: Curve };
  bat: (t: number) => Vec3;
  frontFoot: { x: Curve; z: Curve; yaw: Curve; heel: Curve };
  backFoot: { x: number; yaw: Curve; heel: Curve };
  /** 0 before contact, 1 at the finish: which way the elbows point. */
  through: Curve;
}

const BAT_STANCE: Vec3 = [-0.34, 0.5, 0.8];

function batKeys(at: Timing, casting: number): DirectionKeys {
  const swept = (sound: Vec3, cast: Vec3): Vec3 => [
    sound[0] + (cast[0] - sound[0]) * casting,
    sound[1] + (cast[1] - sound[1]) * casting,
    sound[2] + (cast[2] - sound[2]) * casting,
  ];
  return [
    [at.loadStart, BAT_STANCE],
    [at.loadPeak, [-0.1, 0.5, 0.86]],
    [at.plant, [-0.28, 0.52, 0.8]],
    [at.launch, swept([-0.62, 0.6, 0.52], [-0.8, 0.4, 0.44])],
    [at.lag, swept([-0.96, 0.02, 0.02], [-0.88, -0.42, 0.02])],
    [at.contact, [0.1, -0.95, -0.28]],
    [at.extension, [0.96, -0.14, -0.1]],
    [at.extension * 0.6 + at.wrap * 0.4, [0.74, 0.66, 0.2]],
    [at.wrap, [-0.05, 0.92, 0.42]],
    [at.finish, [-0.84, 0.42, -0.3]],
  ];
}

/** The curves of one hitter's swing over seconds from contact. */
export function motionOf({ body, style }: Hitter): Motion {
  const at = timingOf(style);
  const legs = (body.thigh + body.shank + body.ankleHeight) / (ADULT.thigh + ADULT.shank + ADULT.ankleHeight);
  const arms = (body.upperArm + body.forearm) / (ADULT.upperArm + ADULT.forearm);
  const times = [
    at.loadStart - 0.4,
    at.loadStart,
    at.loadPeak,
    at.plant,
    at.launch,
    at.lag,
    0,
    at.extension,
    at.wrap,
    at.finish,
  ];
  const keys = (values: readonly number[], unit = 1): Curve =>
    monotone(times.map((time, i) => [time, (values[i] ?? 0) * unit] as const));

  const half = style.stanceWidth / 2;
  const lead = half + style.strideLength;
  const soft = style.softFrontLeg * 0.04;
  const drift = style.headDrift;
  const hip = style.hipsEarly;
  const shoulder = style.shouldersEarly;
  const out = style.casting;
  const low = style.handsLow;
  const round = style.finish;

  return {
    timing: at,
    pelvis: {
      x: keys([0, 0, -0.075, 0.06, 0.085, 0.11, 0.13 + soft, 0.145 + soft, 0.16, 0.165], legs),
      y: keys([0.1, 0.1, 0.11, 0.1, 0.09, 0.075, 0.06, 0.05, 0.045, 0.04], legs),
      z: keys([0.85, 0.85, 0.84, 0.8, 0.79, 0.8, 0.835 - soft, 0.845 - soft, 0.85, 0.865], legs),
      yaw: keys([0, 0, -12, 12 + hip, 30 + hip * 0.7, 60, 79, 86, 89, 92]),
    },
    trunk: {
      toPitcher: keys([
        0.02,
        0.02,
        0.1,
        -0.04 + drift * 1.6,
        -0.09 + drift * 1.5,
        -0.15 + drift * 1.3,
        -0.2 + drift,
        -0.21 + drift,
        -0.17,
        -0.1,
      ]),
      toPlate: keys([0.42, 0.42, 0.44, 0.46, 0.44, 0.41, 0.38, 0.32, 0.22, 0.1]),
      yaw: keys([
        -8,
        -8,
        -24,
        -14 + shoulder,
        0 + shoulder * 0.9,
        32 + shoulder * 0.3,
        64,
        88,
        106,
        106 + 14 * round,
      ]),
      tilt: keys([-3, -3, -6, -7, -2, 5, 9, 8, 4, 0]),
    },
    head: {
      yaw: keys([76, 76, 78, 62, 50, 36, 26, 28, 44, 78]),
      down: keys([4, 4, 6, 22, 32, 38, 40, 40, 30, 4]),
    },
    hands: {
      out: keys([0.21, 0.21, 0.15, 0.15, 0.18 + out * 0.14, 0.33 + out * 0.12, 0.49, 0.47, 0.34, 0.17], arms),
      forward: keys(
        [
          -0.19,
          -0.19,
          -0.31,
          -0.36,
          -0.3 - out * 0.06,
          -0.15 - out * 0.06,
          0.04,
          0.16,
          0.24,
          0.22 + 0.04 * round,
        ],
        arms,
      ),
      up: keys(
        [-0.1, -0.1, -0.07, -0.08 - low, -0.16 - low * 0.8, -0.34, -0.45, -0.33, -0.08, -0.02 + 0.05 * round],
        arms,
      ),
    },
    bat: sweep(batKeys(at, style.casting)),
    frontFoot: {
      x: monotone([
        [at.loadStart, half * legs],
        [at.loadPeak, (half - 0.1) * legs],
        [at.toe, lead * legs],
      ]),
      z: monotone([
        [at.loadStart, 0],
        [at.loadPeak, style.legLift * legs],
        [at.loadPeak * 0.62 + at.toe * 0.38, style.legLift * 0.72 * legs],
        [at.toe, 0],
      ]),
      yaw: monotone([
        [at.loadStart, 8],
        [at.loadPeak, 0],
        [at.loadPeak * 0.4 + at.toe * 0.6, style.strideFootOpen * 0.6],
        [at.toe, style.strideFootOpen],
      ]),
      heel: monotone([
        [at.loadStart, 0],
        [at.loadPeak, 26],
        [at.toe, 14],
        [at.plant, 0],
      ]),
    },
    backFoot: {
      x: -half * legs,
      yaw: monotone([
        [at.loadPeak, 0],
        [at.plant, 8],
        [at.lag, 38],
        [0, 64],
        [at.finish, 86],
      ]),
      heel: monotone([
        [at.loadPeak, 0],
        [at.plant, 5],
        [at.lag, 26],
        [0, 42],
        [at.finish, 58],
      ]),
    },
    through: monotone([
      [at.contact, 0],
      [at.wrap, 0.8],
      [at.finish, 1],
    ]),
  };
}
