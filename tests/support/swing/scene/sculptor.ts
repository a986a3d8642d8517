import * as THREE from 'three';
import type { Body } from '../body';
import type { Axes } from '../pose';
import { cross, type Vec3 } from '../vec';
import type { Materials } from './kit';
import { limbRings, loftGeometry, type Profile, type Ring } from './loft';

export const point = (v: Vec3) => new THREE.Vector3(v[0], v[1], v[2]);
const SPHERE = new THREE.SphereGeometry(1, 28, 20);
SPHERE.userData.shared = true;

/** Collects the meshes of one pose of a body in its clothes. */
export class Sculptor {
  readonly group = new THREE.Group();
  /** 1 for a body as broad as the adult's. */
  readonly girth: number;

  constructor(
    readonly body: Body,
    readonly cloth: Materials,
  ) {
    this.girth = (body.girth * body.stature) / 1.76;
  }

  mesh(geometry: THREE.BufferGeometry, material: THREE.Material): THREE.Mesh {
    const mesh = new THREE.Mesh(geometry, material);
    mesh.castShadow = true;
    mesh.receiveShadow = true;
    this.group.add(mesh);
    return mesh;
  }

  loft(rings: readonly Ring[], material: THREE.Material): void {
    this.mesh(loftGeometry(rings), material);
  }

  limb(from: Vec3, to: Vec3, profile: Profile, front: Vec3, material: THREE.Material): void {
    const wide = profile.map(
      ([share, radius, shift]) => [share, radius * this.girth, (shift ?? 0) * this.girth] as const,
    );
    this.loft(limbRings(from, to, wide, front), material);
  }

  /** An ellipsoid; sizes go along right, front and up of `axes`. */
  blob(
    centre: Vec3,
    size: readonly [number, number, number],
    axes: Axes,
    material: THREE.Material,
    geometry: THREE.BufferGeometry = SPHERE,
  ): void {
    const mesh = this.mesh(geometry, material);
    mesh.position.copy(point(centre));
    mesh.scale.set(size[0], size[1], size[2]);
    // Taken anew from front and up: the axes of a mirrored pose are left-handed.
    const right = cross(axes.front, axes.up);
    mesh.quaternion.setFromRotationMatrix(
      new THREE.Matrix4().makeBasis(point(right), point(axes.front), point(axes.up)),
    );
  }

  clear(): void {
    for (const child of [...this.group.children]) {
      this.group.remove(child);
      if (child instanceof THREE.Mesh && !child.geometry.userData.shared) child.geometry.dispose();
    }
  }
}
