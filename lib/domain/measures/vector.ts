/** A point or direction: x to the pitcher, y to the third-base side, z up. Metres, origin at the plate's rear apex. */
export type Vec3 = readonly [x: number, y: number, z: number];

export const DEG = Math.PI / 180;

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const sub = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec3, by: number): Vec3 => [a[0] * by, a[1] * by, a[2] * by];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const norm = (a: Vec3): number => Math.hypot(a[0], a[1], a[2]);
export const unit = (a: Vec3): Vec3 => scale(a, 1 / norm(a));
export const midway = (a: Vec3, b: Vec3): Vec3 => scale(add(a, b), 0.5);

/** `v` turned about `turn`, whose length is the angle in radians (Rodrigues' formula). */
export const turned = (v: Vec3, turn: Vec3): Vec3 => {
  const angle = norm(turn);
  if (angle === 0) return v;
  const axis = scale(turn, 1 / angle);
  const across = cross(axis, v);
  return add(
    add(scale(v, Math.cos(angle)), scale(across, Math.sin(angle))),
    scale(axis, dot(axis, v) * (1 - Math.cos(angle))),
  );
};

/** An angle in degrees brought into the half-open range from -180 to 180. */
export const wrapDegrees = (degrees: number): number => ((((degrees + 180) % 360) + 360) % 360) - 180;
