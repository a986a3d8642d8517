import { project as pinhole, type Camera } from '../swing/camera';
import type { Vec3 } from '../swing/vec';

/** A camera of the swing's kind, turned clockwise about its own axis by `roll` degrees. */
export interface Filming extends Camera {
  roll: number;
}

/** Where a camera stands round the hitter: degrees as in `CameraFacts.azimuth`, for a right-handed hitter. */
export const VIEWS = { side: 0, oblique: 30, front: 90, behind: -90, back: 180 } as const;
export type View = keyof typeof VIEWS;

/** Evenly spread numbers from 0 to 1, and normally spread ones. */
export interface Chance {
  even: () => number;
  normal: () => number;
}

/** Chance that is the same for the same seed (Box and Muller, 1958, over a given even one). */
export const chanceOf = (even: () => number): Chance => ({
  even,
  normal: () => Math.sqrt(-2 * Math.log(1 - even())) * Math.cos(2 * Math.PI * even()),
});

export const between = (chance: Chance, least: number, most: number) =>
  least + (most - least) * chance.even();
export const oneOf = <T>(chance: Chance, of: readonly T[]): T => of[Math.floor(chance.even() * of.length)]!;

/** Where a point falls in the picture of a turned camera, in pixels from the top left. */
export function seenAt(filming: Filming, point: Vec3): { x: number; y: number } {
  const [x, y] = pinhole(filming, point);
  const [dx, dy] = [x - filming.width / 2, y - filming.height / 2];
  const turn = (-filming.roll * Math.PI) / 180;
  return {
    x: filming.width / 2 + dx * Math.cos(turn) - dy * Math.sin(turn),
    y: filming.height / 2 + dx * Math.sin(turn) + dy * Math.cos(turn),
  };
}

const SIZES = [
  { width: 1920, height: 1080 },
  { width: 1920, height: 1080 },
  { width: 1080, height: 1920 },
] as const;

/**
 * A phone held by a person who films a right-handed hitter standing at `place` from one of the views, at chest height or
 * higher, from so far that an adult (`tall` 1) or a child fills the picture.
 */
export function aFilming(chance: Chance, view: View, place: Vec3, tall: number): Filming {
  const size = oneOf(chance, SIZES);
  // Across the long side of the picture.
  const fieldOfView = between(chance, 54, 72);
  const long = Math.max(size.width, size.height);
  const azimuth = ((VIEWS[view] + between(chance, -8, 8)) * Math.PI) / 180;
  const distance = tall * between(chance, 3, 4.8);
  return {
    ...size,
    fieldOfView:
      (2 * Math.atan((size.width / long) * Math.tan((fieldOfView * Math.PI) / 360)) * 180) / Math.PI,
    position: [
      place[0] + distance * Math.sin(azimuth),
      place[1] - distance * Math.cos(azimuth),
      between(chance, 1, 2),
    ],
    target: [
      place[0] + between(chance, -0.2, 0.2),
      place[1] - 0.2 + between(chance, -0.2, 0.2),
      between(chance, 0.7, 0.95),
    ],
    roll: between(chance, -3, 3),
  };
}
