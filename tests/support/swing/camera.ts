import { cross, DEG, dot, sub, unit, UP, type Vec2, type Vec3 } from './vec';

/** A pinhole camera with square pixels that stands still: metres, degrees, pixels of the upright picture. */
export interface Camera {
  position: Vec3;
  target: Vec3;
  /** Across the width of the picture. */
  fieldOfView: number;
  width: number;
  height: number;
}

/** Where a point falls in the picture, in pixels from its top left corner (x right, y down). */
export function project(camera: Camera, point: Vec3): Vec2 {
  const forward = unit(sub(camera.target, camera.position));
  const right = unit(cross(forward, UP));
  const up = cross(right, forward);
  const ray = sub(point, camera.position);
  const depth = dot(ray, forward);
  const focal = camera.width / 2 / Math.tan((camera.fieldOfView * DEG) / 2);
  return [
    camera.width / 2 + (focal * dot(ray, right)) / depth,
    camera.height / 2 - (focal * dot(ray, up)) / depth,
  ];
}

/** How many pixels a metre takes at the depth of a point, across the line of sight. */
export function pixelsPerMetre(camera: Camera, point: Vec3): number {
  const depth = dot(sub(point, camera.position), unit(sub(camera.target, camera.position)));
  return camera.width / 2 / Math.tan((camera.fieldOfView * DEG) / 2) / depth;
}

/** The same camera on the other side of the plate. */
export function mirroredCamera(camera: Camera): Camera {
  const flip = (p: Vec3): Vec3 => [p[0], -p[1], p[2]];
  return { ...camera, position: flip(camera.position), target: flip(camera.target) };
}
