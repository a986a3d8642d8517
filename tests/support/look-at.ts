import type { Camera } from '@/lib/domain/measures/camera';
import type { Vec3 } from '@/lib/domain/measures/vector';

export const HD = { width: 1280, height: 720 };

/** A level camera at a place in metres of the plate's frame that looks at another; focal length in pixels. */
export function camera(position: Vec3, target: Vec3, focal: number, size = HD): Camera {
  const norm = ([x, y, z]: Vec3): Vec3 => {
    const length = Math.hypot(x, y, z);
    return [x / length, y / length, z / length];
  };
  const cross = ([a, b, c]: Vec3, [d, e, f]: Vec3): Vec3 => [b * f - c * e, c * d - a * f, a * e - b * d];
  const forward = norm([target[0] - position[0], target[1] - position[1], target[2] - position[2]]);
  const right = norm(cross(forward, [0, 0, 1]));
  return { ...size, focal, position, forward, right, down: cross(forward, right) };
}
