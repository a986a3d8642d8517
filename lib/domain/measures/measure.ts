import { calibrate, isInPicture, type Calibrated, type CalibrationInput } from './calibrate';
import type { Camera } from './camera';
import { asRightHanded, azimuthFrom } from './camera-facts';
import {
  least,
  MEASURED,
  NEVER,
  standingByView,
  standingByWidth,
  type Standing,
  type Status,
} from './evidence';
import { feetFault } from './feet';
import { boxMiddle } from './field';
import { LIFTED_HEEL, sdsOf } from './model';
import { MEASURE_NAMES, type JointName, type MeasureName } from './names';
import {
  betweenFeet,
  NEEDS,
  QUANTITIES,
  strideFoot,
  UNIT,
  type Points,
  type Scene,
  type SpaceMeasure,
} from './quantities';
import { timeBetween, type Moments, type Timed } from './timing';
import { sdOf, Z95 } from './uncertainty';
import { norm, sub } from './vector';
import { jointList } from './words';

/** Corners and points of one swing at foot strike. Pixels from the top left; see each part for the rest. */
export interface MeasureInput extends CalibrationInput {
  readonly points: Points;
  /** Points of the stride foot on further frames on which it is down: its own are averaged over all of them. */
  readonly planted?: readonly Points[] | undefined;
  /** Points of the feet that are off the ground at foot strike. */
  readonly lifted?: readonly JointName[] | undefined;
  readonly moments?: Moments | undefined;
}

/** One number that the picture carries, or the reason why it does not. */
export interface Measure {
  readonly name: MeasureName;
  readonly status: Status;
  readonly value: number | null;
  readonly unit: 'deg' | 'cm' | 'ms';
  /** The 95 % interval, low and high, in the same unit. */
  readonly interval: readonly [low: number, high: number] | null;
  /** Why it is no more than an estimate, or refused, and how to film so that it can be measured. */
  readonly reason: string | null;
}

const refused = (name: MeasureName, unit: Measure['unit'], reason: string): Measure => ({
  name,
  status: 'refused',
  value: null,
  unit,
  interval: null,
  reason,
});

const found = (
  name: MeasureName,
  unit: Measure['unit'],
  standing: Standing,
  value: number,
  half: number,
): Measure => {
  if (standing.status === 'refused') return refused(name, unit, standing.reason ?? '');
  const { status, reason } = standing;
  return { name, status, value, unit, interval: [value - half, value + half], reason };
};

// Metres by which heel and toe may differ between two frames of a foot that stands still.
const STILL = 0.05;

// Only the stride foot is taken from further frames, and only where it still is where it came down.
const plantedFrames = (input: MeasureInput, alone: Scene): Points[] => {
  const down = strideFoot(alone);
  return (input.planted ?? []).flatMap((points) => {
    const heel = points['stride-heel'];
    const toe = points['stride-toe'];
    if (!heel || !toe || !isInPicture(heel, input.frame) || !isInPicture(toe, input.frame)) return [];
    const only: Points = { 'stride-heel': heel, 'stride-toe': toe };
    const foot = strideFoot({ ...alone, frames: [only] });
    if (!down || !foot) return [];
    const moved = Math.max(norm(sub(foot.heel, down.heel)), norm(sub(foot.toe, down.toe)));
    return moved < STILL ? [only] : [];
  });
};

const sceneOf = (input: MeasureInput, camera: Camera): Scene => {
  const alone: Scene = {
    camera,
    bats: input.bats,
    frames: [input.points],
    heights: Object.fromEntries((input.lifted ?? []).map((joint) => [joint, LIFTED_HEEL.height])),
    depths: {},
  };
  return { ...alone, frames: [input.points, ...plantedFrames(input, alone)] };
};

const inSpace = (name: SpaceMeasure, input: MeasureInput, calibrated: Calibrated): Measure => {
  const unit = UNIT[name];
  const no = (reason: string) => refused(name, unit, reason);
  if (!calibrated.ok) return no(calibrated.sentence);

  const missing = NEEDS[name].filter((joint) => !input.points[joint]);
  if (missing.length > 0) return no(`Set ${jointList(missing)} on the frame of foot strike.`);
  const outside = NEEDS[name].filter((joint) => {
    const at = input.points[joint];
    return at && !isInPicture(at, input.frame);
  });
  if (outside.length > 0)
    return no(`Outside the picture: ${jointList(outside)}. Set it anew, or film from further away.`);

  const scene = sceneOf(input, calibrated.camera);
  const value = QUANTITIES[name](scene);
  const half = Z95 * (sdOf(name, scene, calibrated.fit, input.clickSd, sdsOf(input.lifted ?? [])) ?? NaN);
  if (value === null || !Number.isFinite(half)) {
    return no(
      'A point lies at or above the horizon of this camera, so it cannot be on the ground. Check the points.',
    );
  }
  const fault = feetFault(scene, input.field, NEEDS[name]);
  if (fault) return no(fault);

  const middle = betweenFeet(scene);
  const place = middle ? asRightHanded(middle, input.bats) : boxMiddle(input.field, input.bats);
  const standing = least(
    standingByView(name, azimuthFrom(calibrated.camera, input.bats, place)),
    standingByLift(name, input.lifted ?? []),
    standingByWidth(name, half),
  );
  return found(name, unit, standing, value, half);
};

const standingByLift = (name: SpaceMeasure, lifted: readonly JointName[]): Standing => {
  if (name !== 'stride-foot-openness' && name !== 'stride-length') return MEASURED;
  const up = NEEDS[name].filter((joint) => lifted.includes(joint));
  if (up.some((joint) => joint === 'stride-toe')) {
    return {
      status: 'refused',
      reason: 'The stride foot is still in the air here. Pick a frame on which its toe is down.',
    };
  }
  if (up.length === 0) return MEASURED;
  return {
    status: 'estimate',
    reason: `Off the ground: ${jointList(up)}, so its place on the ground is a guess. Pick a frame with the foot flat to measure it.`,
  };
};

const timed = (name: MeasureName, { standing, value, half }: Timed): Measure =>
  value === null || half === null
    ? refused(name, 'ms', standing.reason ?? '')
    : found(name, 'ms', standing, value, half);

const NO_MOMENTS: Moments = { captureRate: null };

const one = (name: MeasureName, input: MeasureInput, calibrated: Calibrated): Measure => {
  const { load, footStrike, contact, captureRate } = input.moments ?? NO_MOMENTS;
  const strike = { name: 'foot strike', at: footStrike };
  switch (name) {
    case 'front-knee-flexion':
    case 'hip-openness':
    case 'shoulder-openness':
      return refused(name, 'deg', NEVER[name]);
    case 'load-to-foot-strike':
      return timed(name, timeBetween({ name: 'load', at: load }, strike, captureRate));
    case 'foot-strike-to-contact':
      return timed(name, timeBetween(strike, { name: 'contact', at: contact }, captureRate));
    default:
      return inSpace(name, input, calibrated);
  }
};

/**
 * Every measure of one swing, in the order of `MEASURE_NAMES`: a value with its 95 % interval, an estimate, or a refusal
 * with its reason. Computed anew from points each time; throws nothing.
 */
export const measuresOf = (input: MeasureInput): { calibration: Calibrated; measures: Measure[] } => {
  const calibration = calibrate(input);
  return { calibration, measures: MEASURE_NAMES.map((name) => one(name, input, calibration)) };
};
