import type * as THREE from 'three';
import type { Arm, Axes, Leg, Pose } from '../pose';
import { add, along, cross, dot, mix, scale, sub, unit, UP, type Vec3 } from '../vec';
import { limbRings, type Profile, type Ring } from './loft';
import type { Sculptor } from './sculptor';

/** A leg with its sock and shoe. */
export function drawLeg(s: Sculptor, leg: Leg): void {
  const { pants, socks, shoes, sole } = s.cloth;
  const { hip, knee, ankle } = leg;
  s.limb(
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
  s.limb(
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
  s.limb(
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
  shoe(s, leg, shoes, sole);
}

function shoe(
  s: Sculptor,
  { heel, ball, toe, ankle }: Leg,
  upper: THREE.Material,
  rubber: THREE.Material,
): void {
  const rear = unit(sub(ball, heel));
  const front = unit(sub(toe, ball));
  const side = unit(cross(front, sub(ankle, ball)[2] > 0 ? UP : sub(ankle, ball)));
  const upOf = (line: Vec3) => unit(cross(side, line));
  const w = s.body.stature / 1.76;
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
  s.loft(
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
  s.loft(
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

/** An arm with its sleeve and the glove around the bat. */
export function drawArm(s: Sculptor, arm: Arm, bat: Vec3, chest: Axes): void {
  const { sleeve, cuff, skin, gloves } = s.cloth;
  const { shoulder, elbow, wrist, grip } = arm;
  const g = s.girth;
  const front = scale(arm.bend, -1);
  s.blob(along(shoulder, [chest.up, -0.008 * g]), [0.07 * g, 0.068 * g, 0.068 * g], chest, sleeve);
  s.limb(
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
  s.limb(
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
  s.limb(
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
  s.limb(
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
  s.blob(
    along(grip, [palm, 0.002]),
    [0.031 * g, 0.039 * g, 0.043 * g],
    { front: palm, up: unit(sub(bat, scale(palm, dot(bat, palm)))), lead: bat },
    gloves,
  );
}

/** The bat from its knob to its tip. */
export function drawBat(s: Sculptor, { bat }: Pose): void {
  const span = sub(bat.tip, bat.knob);
  const side = Math.abs(bat.direction[2]) > 0.9 ? ([1, 0, 0] as const) : UP;
  const thick = 1;
  const shape = (profile: Profile, material: THREE.Material) =>
    s.loft(
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
    s.cloth.grip,
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
    s.cloth.bat,
  );
}
