import { pixelDistance, type PictureSize, type Pixel } from '../marks/geometry';
import { project, seenFrom, type Camera } from './camera';
import { factsOf, type CameraFacts } from './camera-facts';
import { mostChiSquare, Z } from './chi-square';
import { orderOf, spreadOf } from './corner-order';
import { boxMiddle, groundPoint, type Bats } from './field';
import { fitCamera, type CameraFit, type Sighting } from './fit-camera';
import { focalBelief, type LensFacts } from './lens';
import type { Field, GroundName } from './names';
import { CORNER_LABEL } from './words';

/** A corner of plate or box, clicked: pixels from the top left. */
export interface GroundClick {
  readonly at: GroundName;
  readonly x: number;
  readonly y: number;
}

export interface CalibrationInput extends LensFacts {
  readonly frame: PictureSize;
  readonly bats: Bats;
  readonly field: Field;
  readonly ground: readonly GroundClick[];
  /** Standard deviation of a click, in pixels. */
  readonly clickSd: number;
}

export const CALIBRATION_REFUSALS = [
  'too-few',
  'in-line',
  'mirrored',
  'crossed',
  'residual',
  'impossible',
] as const;
export type CalibrationRefusal = (typeof CALIBRATION_REFUSALS)[number];

export type Calibrated =
  | {
      readonly ok: true;
      readonly camera: Camera;
      /** With the uncertainty of the camera, widened where the corners fit worse than the clicks explain. */
      readonly fit: CameraFit;
      readonly facts: CameraFacts;
      /** How far each corner lies from where the camera sees it, in pixels. */
      readonly corners: readonly { readonly at: GroundName; readonly residual: number }[];
      readonly worst: GroundName;
      /** Root mean square of the residuals, in pixels. */
      readonly rms: number;
      /** Corners outside the picture, which were not used. */
      readonly leftOut: readonly GroundName[];
    }
  | {
      readonly ok: false;
      readonly reason: CalibrationRefusal;
      /** What is wrong and what to do, to be shown as it stands. */
      readonly sentence: string;
      readonly worst: GroundName | null;
    };

const FEWEST = 4;
/** In units of a click's sd. */
const MOST_CORNER_MISFIT = 6;
/** Metres and degrees of what a person can film from. */
const POSSIBLE = { height: [0.1, 15], distance: [0.8, 60], fieldOfView: [6, 130] } as const;

const isWithin = (value: number, [least, most]: readonly [number, number]) => value >= least && value <= most;

const refused = (
  reason: CalibrationRefusal,
  sentence: string,
  worst: GroundName | null = null,
): Calibrated => ({ ok: false, reason, sentence, worst });

/** Whether a pixel lies in the picture; half a pixel of its edge is let pass. */
export const isInPicture = ({ x, y }: { x: number; y: number }, { width, height }: PictureSize): boolean =>
  x >= -0.5 && y >= -0.5 && x <= width + 0.5 && y <= height + 0.5;

/**
 * Finds the camera from the corners of plate and box: the seven numbers of a phone's camera fitted in the picture, with
 * what is known of the focal length as one more observation. Says for every corner how well it fits, or refuses with a
 * sentence that says what to do. Corners outside the picture are left out.
 */
export const calibrate = (input: CalibrationInput): Calibrated => {
  const { frame, bats, field, clickSd } = input;
  const ground = input.ground.filter((corner) => isInPicture(corner, frame));
  const leftOut = input.ground.filter((corner) => !isInPicture(corner, frame)).map(({ at }) => at);
  if (new Set(ground.map(({ at }) => at)).size < FEWEST) return tooFew(ground.length, leftOut);

  const sightings = ground.map(({ at, x, y }): Sighting => ({
    point: groundPoint(field, bats, at),
    pixel: [x, y],
  }));
  const disorder = disorderOf(sightings, clickSd);
  if (disorder) return disorder;

  const fit = fitCamera(frame, sightings, focalBelief(frame, input), clickSd);
  if (!fit) return impossible();
  const corners = ground.map(({ at }, i) => ({ at, residual: residualOf(fit.camera, sightings[i]) }));
  const worst = corners.reduce((a, b) => (b.residual > a.residual ? b : a));
  const isOff = worst.residual > MOST_CORNER_MISFIT * clickSd + ROUNDING;
  if (isOff || fit.chiSquare > mostChiSquare(fit.freedom, Z.ever)) return residual(worst);

  const place = boxMiddle(field, bats);
  const facts = factsOf(fit.camera, bats, place);
  const isPossible =
    isWithin(facts.height, POSSIBLE.height) &&
    isWithin(facts.distance, POSSIBLE.distance) &&
    isWithin(facts.fieldOfView, POSSIBLE.fieldOfView) &&
    seenFrom(fit.camera, place)[2] > 0;
  if (!isPossible) return impossible();

  // Corners that fit worse than chance allows (a bent lens, a hasty click) make every number less sure.
  const isWide = fit.chiSquare > mostChiSquare(fit.freedom, Z.usual);
  const widening = isWide ? fit.chiSquare / fit.freedom : 1;
  return {
    ok: true,
    camera: fit.camera,
    fit: { ...fit, covariance: fit.covariance.map((row) => row.map((value) => value * widening)) },
    facts,
    corners,
    worst: worst.at,
    rms: Math.sqrt(corners.reduce((sum, { residual: r }) => sum + r * r, 0) / corners.length),
    leftOut,
  };
};

// Noise-free points never fit to the last bit.
const ROUNDING = 1e-3;

const residualOf = (camera: Camera, sighting: Sighting | undefined): number => {
  const seen: Pixel | null = sighting ? project(camera, sighting.point) : null;
  return sighting && seen ? pixelDistance(seen, sighting.pixel) : Infinity;
};

const disorderOf = (sightings: readonly Sighting[], clickSd: number): Calibrated | null => {
  const { along, across } = spreadOf(sightings.map(({ pixel }) => pixel));
  if (across < Math.max(1.5 * clickSd, 0.01 * along) + ROUNDING) {
    return refused(
      'in-line',
      'The corners lie in one line on the picture, so the ground cannot be found. Set corners on both sides of the ' +
        'plate, or film from higher up.',
    );
  }
  const order = orderOf(sightings, 5 * clickSd + ROUNDING);
  if (order === 'mirrored') {
    return refused(
      'mirrored',
      'The corners go round the wrong way, as in a mirror. Check which side is third base and which side the hitter ' +
        'bats from, or whether the clip was mirrored by the phone.',
    );
  }
  if (order === 'crossed') {
    return refused(
      'crossed',
      'Two corners are mixed up: their lines cross. Check the names of the corners and the side the hitter bats from.',
    );
  }
  return null;
};

const tooFew = (count: number, leftOut: readonly GroundName[]): Calibrated =>
  refused(
    'too-few',
    `At least ${FEWEST} corners are needed; ${count === 0 ? 'none is' : count === 1 ? 'one is' : `${count} are`} set` +
      `${leftOut.length > 0 ? ' inside the picture' : ''}. The plate alone has five.`,
  );

const residual = (worst: { at: GroundName; residual: number }): Calibrated =>
  refused(
    'residual',
    `The corners do not fit a plate and box of this field. ${worst.residual.toFixed(1)} pixels off is ` +
      `${CORNER_LABEL[worst.at]}: set it again, or check the field type.`,
    worst.at,
  );

const impossible = (): Calibrated =>
  refused(
    'impossible',
    'No camera could have seen these corners like that. Check their names, the field type and the side the hitter bats ' +
      'from, then set them again.',
  );
