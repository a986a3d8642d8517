/** A point or direction in metres: x to the pitcher, y to the third-base side, z up; origin at the plate's rear apex. */
export type Vec3 = readonly [number, number, number];
export type Vec2 = readonly [number, number];

export const DEG = Math.PI / 180;
export const UP: Vec3 = [0, 0, 1];

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const sub = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec3, s: number): Vec3 => [a[0] * s, a[1] * s, a[2] * s];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const length = (a: Vec3): number => Math.hypot(a[0], a[1], a[2]);
export const distance = (a: Vec3, b: Vec3): number => length(sub(a, b));
export const unit = (a: Vec3): Vec3 => scale(a, 1 / (length(a) || 1));
export const mix = (a: Vec3, b: Vec3, t: number): Vec3 => add(a, scale(sub(b, a), t));
export const mirrored = (a: Vec3): Vec3 => [a[0], -a[1], a[2]];

/** `a` plus each direction times its length. */
export const along = (a: Vec3, ...steps: readonly (readonly [Vec3, number])[]): Vec3 =>
  steps.reduce<Vec3>((sum, [direction, by]) => add(sum, scale(direction, by)), a);

/** The part of `a` at right angles to the unit vector `axis`. */
export const across = (a: Vec3, axis: Vec3): Vec3 => sub(a, scale(axis, dot(a, axis)));

/** `v` turned by `angle` radians about the unit vector `axis` (Rodrigues). */
export function turned(v: Vec3, axis: Vec3, angle: number): Vec3 {
  const c = Math.cos(angle);
  return along(scale(v, c), [cross(axis, v), Math.sin(angle)], [axis, dot(axis, v) * (1 - c)]);
}
