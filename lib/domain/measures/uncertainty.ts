import { CAMERA_FREEDOM, moved } from './camera';
import type { CameraFit } from './fit-camera';
import { JOINT_NAMES, type JointName } from './names';
import { QUANTITIES, UNIT, type Points, type Scene, type SpaceMeasure } from './quantities';
import { wrapDegrees } from './vector';

/** How well the parts of a scene are known that no click tells: standard deviations in metres. */
export interface ModelSds {
  readonly heights: Readonly<Partial<Record<JointName, number>>>;
  readonly depths: Readonly<Partial<Record<JointName, number>>>;
}

/** Half the width of a 95 % interval in standard deviations (normal distribution). */
export const Z95 = 1.96;

// Steps of the numeric derivatives: small against the curve of the geometry, large against rounding.
const CAMERA_STEP = 1e-6;
const PIXEL_STEP = 1e-3;
const METRE_STEP = 1e-5;

const withPoint = (scene: Scene, frame: number, name: JointName, dx: number, dy: number): Scene => {
  const frames = scene.frames.map((points, i): Points => {
    const at = points[name];
    return i === frame && at ? { ...points, [name]: { x: at.x + dx, y: at.y + dy } } : points;
  });
  return { ...scene, frames: frames as [Points, ...Points[]] };
};

/**
 * The standard deviation of a measure: every click moved alone, numerically. The clicks of the corners act through the
 * camera fitted to them, whose covariance is that of a refit with the belief about the focal length as one more
 * observation; the clicks on the hitter act directly; then what no click tells, in `model`. Null when the measure has
 * no value a step away.
 */
export const sdOf = (
  name: SpaceMeasure,
  scene: Scene,
  fit: CameraFit,
  clickSd: number,
  model: ModelSds,
): number | null => {
  const value = QUANTITIES[name];
  const slope = (change: (step: number) => Scene, step: number): number => {
    const above = value(change(step));
    const below = value(change(-step));
    if (above === null || below === null) return NaN;
    const rise = UNIT[name] === 'deg' ? wrapDegrees(above - below) : above - below;
    return rise / (2 * step);
  };

  const byCamera = Array.from({ length: CAMERA_FREEDOM }, (_, i) =>
    slope((step) => {
      const steps = new Array<number>(CAMERA_FREEDOM).fill(0);
      steps[i] = step;
      return { ...scene, camera: moved(scene.camera, steps) };
    }, CAMERA_STEP),
  );
  let variance = 0;
  fit.covariance.forEach((row, i) =>
    row.forEach((value, j) => (variance += value * (byCamera[i] ?? 0) * (byCamera[j] ?? 0))),
  );

  const add = (perUnit: number, sd: number) => (variance += (perUnit * sd) ** 2);
  scene.frames.forEach((points, frame) => {
    for (const joint of JOINT_NAMES.filter((n) => points[n])) {
      add(
        slope((step) => withPoint(scene, frame, joint, step, 0), PIXEL_STEP),
        clickSd,
      );
      add(
        slope((step) => withPoint(scene, frame, joint, 0, step), PIXEL_STEP),
        clickSd,
      );
    }
  });
  for (const part of ['heights', 'depths'] as const) {
    for (const joint of JOINT_NAMES) {
      const sd = model[part][joint];
      if (!sd) continue;
      const there = scene[part][joint] ?? 0;
      add(
        slope((step) => ({ ...scene, [part]: { ...scene[part], [joint]: there + step } }), METRE_STEP),
        sd,
      );
    }
  }
  return Number.isFinite(variance) ? Math.sqrt(variance) : null;
};
