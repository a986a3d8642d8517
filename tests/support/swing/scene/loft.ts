import * as THREE from 'three';
import { add, cross, dot, scale, sub, unit, type Vec3 } from '../vec';

/** A cross-section: centre and two half-axes. `square` above 2 makes it boxier than an ellipse. */
export interface Ring {
  centre: Vec3;
  right: Vec3;
  front: Vec3;
  square?: number;
}

const AROUND = 28;
const power = (x: number, p: number) => Math.sign(x) * Math.pow(Math.abs(x), 2 / p);

/** A closed skin over rings. Texture u runs once around from the right side over the front, v from first ring to last. */
export function loftGeometry(rings: readonly Ring[]): THREE.BufferGeometry {
  const position: number[] = [];
  const uv: number[] = [];
  const index: number[] = [];
  const row = AROUND + 1;
  rings.forEach((ring, k) => {
    const p = ring.square ?? 2;
    for (let i = 0; i <= AROUND; i++) {
      const angle = (i / AROUND) * Math.PI * 2;
      const at = add(
        ring.centre,
        add(scale(ring.right, power(Math.cos(angle), p)), scale(ring.front, power(Math.sin(angle), p))),
      );
      position.push(...at);
      uv.push(i / AROUND, k / (rings.length - 1));
    }
  });
  for (let k = 0; k < rings.length - 1; k++) {
    for (let i = 0; i < AROUND; i++) {
      const a = k * row + i;
      index.push(a, a + 1, a + row, a + 1, a + row + 1, a + row);
    }
  }
  const ends = [rings[0], rings.at(-1)].flatMap((ring) => (ring ? [ring.centre] : []));
  ends.forEach((centre, end) => {
    const tip = position.length / 3;
    position.push(...centre);
    uv.push(0.5, end);
    const base = end === 0 ? 0 : (rings.length - 1) * row;
    for (let i = 0; i < AROUND; i++) {
      if (end === 0) index.push(tip, base + i + 1, base + i);
      else index.push(tip, base + i, base + i + 1);
    }
  });
  const geometry = new THREE.BufferGeometry();
  geometry.setAttribute('position', new THREE.Float32BufferAttribute(position, 3));
  geometry.setAttribute('uv', new THREE.Float32BufferAttribute(uv, 2));
  geometry.setIndex(index);
  geometry.computeVertexNormals();
  closeSeam(geometry, rings.length, row);
  return geometry;
}

// The first and last column lie on each other: without this a crease would run down every limb.
function closeSeam(geometry: THREE.BufferGeometry, rows: number, row: number): void {
  const normal = geometry.getAttribute('normal');
  for (let k = 0; k < rows; k++) {
    const a = k * row;
    const b = a + row - 1;
    const sum = unit([
      normal.getX(a) + normal.getX(b),
      normal.getY(a) + normal.getY(b),
      normal.getZ(a) + normal.getZ(b),
    ]);
    normal.setXYZ(a, ...sum);
    normal.setXYZ(b, ...sum);
  }
}

/** `[share of the way, radius, shift to the front]`, from the first joint to the second. */
export type Profile = readonly (readonly [along: number, radius: number, shift?: number])[];

/** Round cross-sections along a bone, whose front is the side that `front` points to. */
export function limbRings(from: Vec3, to: Vec3, profile: Profile, front: Vec3): Ring[] {
  const line = unit(sub(to, from));
  const forward = unit(sub(front, scale(line, dot(front, line))));
  const right = cross(forward, line);
  return profile.map(([share, radius, shift]) => ({
    centre: add(add(from, scale(sub(to, from), share)), scale(forward, shift ?? 0)),
    right: scale(right, radius),
    front: scale(forward, radius),
  }));
}
