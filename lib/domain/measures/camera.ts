import type { Pixel, PictureSize } from '../marks/geometry';
import { add, dot, scale, sub, turned, type Vec3 } from './vector';

/**
 * A pinhole camera with square pixels whose axis goes through the middle of the picture. Position in metres of the
 * plate's frame; `right`, `down` and `forward` are the camera's own axes in that frame; focal length in pixels.
 */
export interface Camera extends PictureSize {
  readonly focal: number;
  readonly position: Vec3;
  readonly right: Vec3;
  readonly down: Vec3;
  readonly forward: Vec3;
}

/** How many free numbers a camera has: one focal length, three of place, three of turn. */
export const CAMERA_FREEDOM = 7;

/** A point in the camera's own axes: metres to the right, down, ahead. */
export const seenFrom = (camera: Camera, point: Vec3): Vec3 => {
  const ray = sub(point, camera.position);
  return [dot(ray, camera.right), dot(ray, camera.down), dot(ray, camera.forward)];
};

/** Where a point falls in the picture, in pixels; null when it is not in front of the camera. */
export const project = (camera: Camera, point: Vec3): Pixel | null => {
  const [right, down, ahead] = seenFrom(camera, point);
  if (ahead <= 0) return null;
  return [
    camera.width / 2 + (camera.focal * right) / ahead,
    camera.height / 2 + (camera.focal * down) / ahead,
  ];
};

/** The direction in which a pixel looks, in the plate's frame; not of unit length. */
export const rayThrough = (camera: Camera, [x, y]: Pixel): Vec3 =>
  add(
    camera.forward,
    add(
      scale(camera.right, (x - camera.width / 2) / camera.focal),
      scale(camera.down, (y - camera.height / 2) / camera.focal),
    ),
  );

// Where a pixel's line of sight meets the plane on which one coordinate (0 to 2) has a given value.
const meet = (camera: Camera, pixel: Pixel, axis: 1 | 2, value: number): Vec3 | null => {
  const ray = rayThrough(camera, pixel);
  const steps = (value - camera.position[axis]) / ray[axis];
  return Number.isFinite(steps) && steps > 0 ? add(camera.position, scale(ray, steps)) : null;
};

/** The point at `height` metres above the ground that a pixel shows; null at or above the horizon. */
export const onGround = (camera: Camera, pixel: Pixel, height = 0): Vec3 | null =>
  meet(camera, pixel, 2, height);

/** The point that a pixel shows in the upright plane along the pitcher line at `y`; null when it never gets there. */
export const onPlaneAlong = (camera: Camera, pixel: Pixel, y: number): Vec3 | null =>
  meet(camera, pixel, 1, y);

/**
 * The camera after a small step: the natural logarithm of the focal length, the place in metres, a turn in radians
 * about the plate frame's axes. The seven numbers in which a camera is fitted and its uncertainty is kept.
 */
export const moved = (camera: Camera, step: readonly number[]): Camera => {
  const [focal = 0, x = 0, y = 0, z = 0, rx = 0, ry = 0, rz = 0] = step;
  const turn: Vec3 = [rx, ry, rz];
  return {
    ...camera,
    focal: camera.focal * Math.exp(focal),
    position: add(camera.position, [x, y, z]),
    right: turned(camera.right, turn),
    down: turned(camera.down, turn),
    forward: turned(camera.forward, turn),
  };
};

/** The nine numbers, row by row, that take a place on the ground (x, y, 1) in metres to a pixel, up to a factor. */
export const groundHomography = (camera: Camera): number[] => {
  const { right, down, forward, position, focal, width, height } = camera;
  const column = (point: Vec3) => {
    const ahead = dot(point, forward);
    return [
      focal * dot(point, right) + (width / 2) * ahead,
      focal * dot(point, down) + (height / 2) * ahead,
      ahead,
    ];
  };
  const columns = [column([1, 0, 0]), column([0, 1, 0]), column(scale(position, -1))];
  return [0, 1, 2].flatMap((row) => columns.map((c) => c[row] ?? 0));
};
