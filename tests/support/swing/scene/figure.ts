import * as THREE from 'three';
import type { Body } from '../body';
import type { Arm, Axes, Leg, Pose } from '../pose';
import { add, along, cross, dot, mix, scale, sub, unit, UP, type Vec3 } from '../vec';
import type { Materials } from './kit';
import { limbRings, loftGeometry, type Profile, type Ring } from './loft';

const point = (v: Vec3) => new THREE.Vector3(v[0], v[1], v[2]);
const SPHERE = new THREE.SphereGeometry(1, 28, 20);
SPHERE.userData.shared = true;

/** Collects the meshes of one pose. Left and right are the hitter's own, whichever side leads. */
export class Figure {
  readonly group = new THREE.Group();
  /** 1 for a body as broad as the adult's. */
  private readonly girth: number;

  constructor(
    private readonly body: Body,
    private readonly cloth: Materials,
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

  draw(pose: Pose): void {
    this.clear();
    this.trunk(pose);
    for (const side of ['lead', 'trail'] as const) {
      this.leg(pose.legs[side]);
      this.arm(pose.arms[side], pose.bat.direction, pose.chest);
    }
    this.head(pose);
    this.bat(pose);
  }

  private trunk({ joints, pelvis, chest }: Pose): void {
    const g = this.girth;
    const wide = this.body.shoulderHalf / 0.187;
    const height = this.body.trunk;
    const section = (share: number, half: number, deep: number, shift = 0): Ring => {
      const blend = Math.min(1, Math.max(0, (share - 0.05) / 0.6));
      const front = unit(mix(pelvis.front, chest.front, blend));
      const up = unit(mix(pelvis.up, chest.up, blend));
      const right = cross(front, up);
      const bow = Math.sin(Math.min(1, Math.max(0, share)) * Math.PI) * -0.016 * height;
      const centre = along(mix(joints.pelvis, joints.neck, share), [front, (shift + bow) * 1]);
      return {
        centre,
        right: scale(right, half * wide),
        front: scale(cross(up, right), deep * g),
        square: 2.3,
      };
    };
    const { pants, belt, jersey, buckle } = this.cloth;
    this.loft(
      [
        section(-0.21, 0.05, 0.06),
        section(-0.18, 0.12, 0.105),
        section(-0.1, 0.165, 0.13, -0.008),
        section(0, 0.174, 0.134, -0.01),
        section(0.1, 0.162, 0.122, -0.004),
        section(0.2, 0.146, 0.11),
      ],
      pants,
    );
    this.loft(
      [
        section(0.185, 0.15, 0.115),
        section(0.2, 0.152, 0.117),
        section(0.235, 0.15, 0.116),
        section(0.245, 0.146, 0.112),
      ],
      belt,
    );
    this.loft(
      [
        section(0.22, 0.149, 0.114),
        section(0.24, 0.156, 0.121),
        section(0.3, 0.153, 0.12),
        section(0.42, 0.156, 0.12),
        section(0.56, 0.17, 0.126, 0.004),
        section(0.7, 0.186, 0.128, 0.004),
        section(0.8, 0.19, 0.118),
        section(0.87, 0.176, 0.102),
        section(0.93, 0.13, 0.084),
        section(0.97, 0.085, 0.07),
        section(1.0, 0.064, 0.06),
      ],
      jersey,
    );
    const at = section(0.215, 0.15, 0.117);
    const front = unit(at.front);
    const box = this.mesh(new THREE.BoxGeometry(0.05 * g, 0.012, 0.034 * g), buckle);
    box.position.copy(point(along(at.centre, [front, 0.118 * g])));
    const right = unit(at.right);
    box.quaternion.setFromRotationMatrix(
      new THREE.Matrix4().makeBasis(point(right), point(front), point(cross(right, front))),
    );
  }

  private leg(leg: Leg): void {
    const { pants, socks, shoes, sole } = this.cloth;
    const { hip, knee, ankle } = leg;
    this.limb(
      hip,
      knee,
      [
        [-0.14, 0.05],
        [-0.07, 0.09],
        [0.04, 0.1],
        [0.28, 0.094],
        [0.58, 0.079],
        [0.82, 0.067],
        [0.96, 0.064],
        [1.05, 0.058],
        [1.1, 0.03],
      ],
      leg.bend,
      pants,
    );
    this.limb(
      knee,
      ankle,
      [
        [-0.11, 0.03],
        [-0.06, 0.055],
        [0, 0.064],
        [0.1, 0.062, -0.004],
        [0.26, 0.066, -0.012],
        [0.42, 0.061, -0.012],
        [0.56, 0.054, -0.008],
        [0.62, 0.052, -0.006],
        [0.635, 0.044, -0.006],
      ],
      leg.bend,
      pants,
    );
    this.limb(
      knee,
      ankle,
      [
        [0.58, 0.046, -0.006],
        [0.74, 0.039, -0.003],
        [0.9, 0.035],
        [1.04, 0.037],
      ],
      leg.bend,
      socks,
    );
    this.shoe(leg, shoes, sole);
  }

  private shoe({ heel, ball, toe, ankle }: Leg, upper: THREE.Material, rubber: THREE.Material): void {
    const rear = unit(sub(ball, heel));
    const front = unit(sub(toe, ball));
    const side = unit(cross(front, sub(ankle, ball)[2] > 0 ? UP : sub(ankle, ball)));
    const upOf = (line: Vec3) => unit(cross(side, line));
    const w = this.body.stature / 1.76;
    // Stations from heel to toe: share of the rear foot (below 1) or of the toes (above), half width, height.
    const ring = (share: number, half: number, height: number, base = 0): Ring => {
      const line = share < 0.85 ? rear : share < 1.15 ? unit(add(rear, front)) : front;
      const up = upOf(line);
      const spot = share <= 1 ? mix(heel, ball, share) : mix(ball, toe, share - 1);
      return {
        centre: along(spot, [up, (base + height / 2) * w]),
        right: scale(side, half * w),
        front: scale(up, (height / 2) * w),
        square: 2.6,
      };
    };
    this.loft(
      [
        ring(-0.06, 0.016, 0.03, 0.012),
        ring(-0.03, 0.03, 0.07, 0.012),
        ring(0.1, 0.038, 0.098, 0.012),
        ring(0.28, 0.039, 0.108, 0.012),
        ring(0.45, 0.04, 0.09, 0.012),
        ring(0.7, 0.045, 0.067, 0.012),
        ring(1, 0.049, 0.052, 0.012),
        ring(1.45, 0.046, 0.044, 0.012),
        ring(1.8, 0.033, 0.036, 0.012),
        ring(2.0, 0.012, 0.02, 0.014),
      ],
      upper,
    );
    this.loft(
      [
        ring(-0.07, 0.016, 0.018),
        ring(0, 0.036, 0.018),
        ring(0.4, 0.038, 0.018),
        ring(1, 0.052, 0.018),
        ring(1.5, 0.048, 0.018),
        ring(1.85, 0.033, 0.018),
        ring(2.03, 0.012, 0.018),
      ],
      rubber,
    );
  }

  private arm(arm: Arm, bat: Vec3, chest: Axes): void {
    const { sleeve, cuff, skin, gloves } = this.cloth;
    const { shoulder, elbow, wrist, grip } = arm;
    const g = this.girth;
    const front = scale(arm.bend, -1);
    this.blob(along(shoulder, [chest.up, -0.008 * g]), [0.07 * g, 0.068 * g, 0.068 * g], chest, sleeve);
    this.limb(
      shoulder,
      elbow,
      [
        [-0.14, 0.045],
        [-0.04, 0.064],
        [0.2, 0.066],
        [0.45, 0.063],
        [0.6, 0.066],
        [0.61, 0.05],
      ],
      front,
      sleeve,
    );
    this.limb(
      shoulder,
      elbow,
      [
        [0.5, 0.05],
        [0.7, 0.046],
        [0.9, 0.041],
        [1, 0.04],
        [1.06, 0.03],
        [1.09, 0.012],
      ],
      front,
      cuff,
    );
    this.limb(
      elbow,
      wrist,
      [
        [-0.11, 0.014],
        [-0.06, 0.034],
        [0, 0.041],
        [0.2, 0.045],
        [0.45, 0.04],
        [0.8, 0.031],
        [1, 0.029],
      ],
      front,
      cuff === skin ? skin : cuff,
    );
    const palm = unit(sub(grip, wrist));
    this.limb(
      wrist,
      grip,
      [
        [-0.3, 0.026],
        [-0.25, 0.031],
        [0, 0.029],
        [0.5, 0.032],
        [0.9, 0.027],
        [1.1, 0.01],
      ],
      bat,
      gloves,
    );
    this.blob(
      along(grip, [palm, 0.002]),
      [0.031 * g, 0.039 * g, 0.043 * g],
      { front: palm, up: unit(sub(bat, scale(palm, dot(bat, palm)))), lead: bat },
      gloves,
    );
  }

  private bat({ bat }: Pose): void {
    const span = sub(bat.tip, bat.knob);
    const side = Math.abs(bat.direction[2]) > 0.9 ? ([1, 0, 0] as const) : UP;
    const thick = 1;
    const shape = (profile: Profile, material: THREE.Material) =>
      this.loft(
        limbRings(
          bat.knob,
          add(bat.knob, span),
          profile.map(([s, r]) => [s, r * thick] as const),
          side,
        ),
        material,
      );
    shape(
      [
        [0, 0.012],
        [0.004, 0.024],
        [0.02, 0.023],
        [0.03, 0.0135],
        [0.3, 0.0135],
      ],
      this.cloth.grip,
    );
    shape(
      [
        [0.3, 0.0125],
        [0.44, 0.0155],
        [0.6, 0.026],
        [0.72, 0.032],
        [0.95, 0.033],
        [0.985, 0.029],
        [1, 0.014],
      ],
      this.cloth.bat,
    );
  }

  private head({ joints, head, chest }: Pose): void {
    const c = this.cloth;
    const h = this.body.head;
    const skull = joints.head;
    const right = cross(head.front, head.up);
    const spot = (out: number, side: number, up: number): Vec3 =>
      along(skull, [head.front, out * h], [right, side * h], [head.up, up * h]);
    const part = (at: Vec3, size: readonly [number, number, number], material: THREE.Material) =>
      this.blob(at, [size[0] * h, size[1] * h, size[2] * h], head, material);
    this.limb(
      along(joints.neck, [chest.up, -0.03 * this.body.stature]),
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
    this.helmet(spot, part, head);
    if (this.cloth.guard && this.hasGuard) this.guard(spot);
    if (this.hasTail) {
      const tail = along(spot(-0.44, 0, -0.12), [UP, -0.2 * h]);
      this.loft(
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

  hasTail = false;
  hasGuard = false;

  private helmet(
    spot: (out: number, side: number, up: number) => Vec3,
    part: (at: Vec3, size: readonly [number, number, number], material: THREE.Material) => void,
    head: Axes,
  ): void {
    const h = this.body.head;
    const { helmet, dark } = this.cloth;
    const dome = new THREE.SphereGeometry(1, 36, 18, 0, Math.PI * 2, 0, Math.PI * 0.52);
    dome.rotateX(Math.PI / 2);
    this.blob(spot(-0.03, 0, 0.1), [0.42 * h, 0.49 * h, 0.47 * h], head, helmet, dome);
    part(spot(0.42, 0, 0.16), [0.32, 0.3, 0.028], helmet);
    for (const s of [-1, 1]) {
      part(spot(-0.07, s * 0.33, -0.05), [0.085, 0.22, 0.25], helmet);
      part(spot(-0.05, s * 0.4, -0.06), [0.03, 0.05, 0.06], dark);
    }
  }

  private guard(spot: (out: number, side: number, up: number) => Vec3): void {
    const bar = (points: readonly Vec3[]) => {
      const curve = new THREE.CatmullRomCurve3(points.map(point));
      this.mesh(new THREE.TubeGeometry(curve, 20, 0.0045, 6), this.cloth.guard);
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
}
