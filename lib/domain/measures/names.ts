/** Field types, which decide the size of the batter's box. */
export const FIELDS = ['baseball', 'softball', 'youth'] as const;
export type Field = (typeof FIELDS)[number];

/**
 * Corners on the ground that can be clicked. Of the plate by the base side they lie toward; of the hitter's own box by
 * `inner` (next to the plate) and `front` (toward the pitcher), at the outside edges of the lines.
 */
export const GROUND_NAMES = [
  'plate-apex',
  'plate-side-third',
  'plate-front-third',
  'plate-front-first',
  'plate-side-first',
  'box-inner-front',
  'box-inner-rear',
  'box-outer-rear',
  'box-outer-front',
] as const;
export type GroundName = (typeof GROUND_NAMES)[number];

/** Points of the hitter that can be clicked. Stride is the foot toward the pitcher, rear the other. */
export const JOINT_NAMES = [
  'stride-heel',
  'stride-toe',
  'rear-heel',
  'rear-toe',
  'head',
  'belt',
  'front-knee',
  'front-ankle',
  'front-shoulder',
  'rear-shoulder',
] as const;
export type JointName = (typeof JOINT_NAMES)[number];

export const MEASURE_NAMES = [
  'stride-foot-openness',
  'stride-length',
  'head-ahead-of-belt',
  'front-knee-past-ankle',
  'trunk-lean',
  'shoulder-tilt',
  'front-knee-flexion',
  'hip-openness',
  'shoulder-openness',
  'load-to-foot-strike',
  'foot-strike-to-contact',
] as const;
export type MeasureName = (typeof MEASURE_NAMES)[number];
