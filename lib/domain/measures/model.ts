import type { JointName } from './names';
import type { ModelSds } from './uncertainty';

/** How far a heel is off the ground that somebody marked as lifted: metres, and how unsure that is. Our own choice. */
export const LIFTED_HEEL = { height: 0.03, sd: 0.015 } as const;

/**
 * What no click tells, in metres. A sole is clicked at its edge, a little above the ground, and at foot strike the rear
 * heel begins to rise. The body does not lie in one plane with the feet: at foot strike of the parametric swing (300
 * bodies and styles) the head is 20 cm nearer the plate, front and rear shoulder 16 and 11, belt and knee 6 to 7, the
 * ankle 4 behind; a bias of b is told as an sd of about b/1.6, so that 1.96 sd hold it.
 */
const SOLE = 0.001;
const RISING_HEEL = 0.01;
const MODEL: ModelSds = {
  heights: { 'stride-heel': SOLE, 'stride-toe': SOLE, 'rear-heel': RISING_HEEL, 'rear-toe': SOLE },
  depths: {
    head: 0.11,
    belt: 0.04,
    'front-knee': 0.08,
    'front-ankle': 0.045,
    'front-shoulder': 0.1,
    'rear-shoulder': 0.07,
  },
};

/** The model's sds with the given points of the feet off the ground. */
export const sdsOf = (lifted: readonly JointName[]): ModelSds => ({
  ...MODEL,
  heights: { ...MODEL.heights, ...Object.fromEntries(lifted.map((joint) => [joint, LIFTED_HEEL.sd])) },
});
