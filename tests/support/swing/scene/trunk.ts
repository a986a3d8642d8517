import * as THREE from 'three';
import type { Pose } from '../pose';
import { along, cross, mix, scale, unit } from '../vec';
import type { Ring } from './loft';
import { point, type Sculptor } from './sculptor';

/** Pants to the waist, belt with its buckle, jersey to the collar. */
export function drawTrunk(s: Sculptor, { joints, pelvis, chest }: Pose): void {
  const g = s.girth;
  const wide = s.body.shoulderHalf / 0.187;
  const height = s.body.trunk;
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
  const { pants, belt, jersey, buckle } = s.cloth;
  s.loft(
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
  s.loft(
    [
      section(0.185, 0.15, 0.115),
      section(0.2, 0.152, 0.117),
      section(0.235, 0.15, 0.116),
      section(0.245, 0.146, 0.112),
    ],
    belt,
  );
  s.loft(
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
  const box = s.mesh(new THREE.BoxGeometry(0.05 * g, 0.012, 0.034 * g), buckle);
  box.position.copy(point(along(at.centre, [front, 0.118 * g])));
  const right = unit(at.right);
  box.quaternion.setFromRotationMatrix(
    new THREE.Matrix4().makeBasis(point(right), point(front), point(cross(right, front))),
  );
}
