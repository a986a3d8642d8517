import type { ClipView } from '../clips/clip';
import type { Camera } from './camera';
import { sideOf, type Bats } from './field';
import { DEG, norm, sub, wrapDegrees, type Vec3 } from './vector';

/** Where a camera stands and looks, in words' terms: metres and degrees. */
export interface CameraFacts {
  readonly view: ClipView;
  /** 0: square to the hitter's open side, 90: from the pitcher's side, 180: from behind the back, -90: from behind. */
  readonly azimuth: number;
  /** Above the ground. */
  readonly height: number;
  /** Along the ground to the place from which the azimuth is taken. */
  readonly distance: number;
  /** Across the long side of the picture. */
  readonly fieldOfView: number;
  /** How far the picture is turned clockwise against the upright; 0 for a phone held straight. */
  readonly roll: number;
}

/** A point with left-handed hitters mirrored, so that every hitter stands on the third-base side. */
export const asRightHanded = (point: Vec3, bats: Bats): Vec3 => [point[0], sideOf(bats) * point[1], point[2]];

/** The direction from a place on the ground to the camera, in degrees as in `CameraFacts.azimuth`. */
export const azimuthFrom = (camera: Camera, bats: Bats, place: Vec3): number => {
  const [x, y] = asRightHanded(sub(camera.position, place), bats);
  return Math.atan2(x, -y) / DEG;
};

/** The name of the view that an azimuth in degrees belongs to: a quarter of the circle each. */
export const viewAt = (azimuth: number): ClipView => {
  const a = wrapDegrees(azimuth);
  if (Math.abs(a) <= 45) return 'open_side';
  if (Math.abs(a) >= 135) return 'back';
  return a > 0 ? 'front' : 'behind';
};

/** What can be said of a camera, seen from `place` on the ground, where the hitter stands. */
export const factsOf = (camera: Camera, bats: Bats, place: Vec3): CameraFacts => {
  const azimuth = azimuthFrom(camera, bats, place);
  const toCamera = sub(camera.position, place);
  return {
    view: viewAt(azimuth),
    azimuth,
    height: camera.position[2],
    distance: norm([toCamera[0], toCamera[1], 0]),
    fieldOfView: (2 * Math.atan(Math.max(camera.width, camera.height) / 2 / camera.focal)) / DEG,
    roll: Math.atan2(-camera.right[2], -camera.down[2]) / DEG,
  };
};
