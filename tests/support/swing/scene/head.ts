import * as THREE from 'three';
import type { Axes, Pose } from '../pose';
import { along, cross, UP, type Vec3 } from '../vec';
import { limbRings } from './loft';
import { point, type Sculptor } from './sculptor';

/** Neck, face and helmet; where worn, the guard before the face and the ponytail under the helmet. */
export function drawHead(
  s: Sculptor,
  { joints, head, chest }: Pose,
  has: { faceGuard: boolean; ponytail: boolean },
): void {
  const c = s.cloth;
  const h = s.body.head;
  const skull = joints.head;
  const right = cross(head.front, head.up);
  const spot = (out: number, side: number, up: number): Vec3 =>
    along(skull, [head.front, out * h], [right, side * h], [head.up, up * h]);
  const part = (at: Vec3, size: readonly [number, number, number], material: THREE.Material) =>
    s.blob(at, [size[0] * h, size[1] * h, size[2] * h], head, material);
  s.limb(
    along(joints.neck, [chest.up, -0.03 * s.body.stature]),
    spot(-0.06, 0, -0.16),
    [
      [0, 0.068],
      [0.3, 0.058],
      [0.7, 0.053],
      [1, 0.055],
    ],
    chest.front,
    c.skin,
  );
  part(skull, [0.33, 0.41, 0.47], c.skin);
  part(spot(0.17, 0, -0.24), [0.24, 0.22, 0.22], c.skin);
  part(spot(0.43, 0, -0.09), [0.055, 0.08, 0.08], c.skin);
  for (const s of [-1, 1]) {
    part(spot(0.355, s * 0.135, 0.045), [0.062, 0.045, 0.038], c.white);
    part(spot(0.392, s * 0.132, 0.043), [0.03, 0.018, 0.03], c.dark);
    part(spot(0.36, s * 0.135, 0.105), [0.08, 0.05, 0.018], c.hair);
  }
  part(spot(0.37, 0, -0.245), [0.1, 0.04, 0.022], c.lips);
  helmet(s, spot, part, head);
  if (has.faceGuard) guard(s, spot);
  if (has.ponytail) {
    const tail = along(spot(-0.44, 0, -0.12), [UP, -0.2 * h]);
    s.loft(
      limbRings(
        spot(-0.36, 0, -0.1),
        along(tail, [head.front, -0.25 * h], [UP, -0.6 * h]),
        [
          [0, 0.02],
          [0.15, 0.034],
          [0.5, 0.036],
          [0.85, 0.02],
          [1, 0.006],
        ],
        head.front,
      ),
      c.hair,
    );
  }
}

function helmet(
  s: Sculptor,
  spot: (out: number, side: number, up: number) => Vec3,
  part: (at: Vec3, size: readonly [number, number, number], material: THREE.Material) => void,
  head: Axes,
): void {
  const h = s.body.head;
  const { helmet, dark } = s.cloth;
  const dome = new THREE.SphereGeometry(1, 36, 18, 0, Math.PI * 2, 0, Math.PI * 0.52);
  dome.rotateX(Math.PI / 2);
  s.blob(spot(-0.03, 0, 0.1), [0.42 * h, 0.49 * h, 0.47 * h], head, helmet, dome);
  part(spot(0.42, 0, 0.16), [0.32, 0.3, 0.028], helmet);
  for (const s of [-1, 1]) {
    part(spot(-0.07, s * 0.33, -0.05), [0.085, 0.22, 0.25], helmet);
    part(spot(-0.05, s * 0.4, -0.06), [0.03, 0.05, 0.06], dark);
  }
}

function guard(s: Sculptor, spot: (out: number, side: number, up: number) => Vec3): void {
  const bar = (points: readonly Vec3[]) => {
    const curve = new THREE.CatmullRomCurve3(points.map(point));
    s.mesh(new THREE.TubeGeometry(curve, 20, 0.0045, 6), s.cloth.guard);
  };
  for (const up of [-0.1, -0.28])
    bar([
      spot(0.1, -0.4, up),
      spot(0.42, -0.27, up),
      spot(0.56, 0, up),
      spot(0.42, 0.27, up),
      spot(0.1, 0.4, up),
    ]);
  for (const s of [-0.16, 0.16]) bar([spot(0.46, s, 0.14), spot(0.52, s, -0.1), spot(0.49, s, -0.29)]);
}
