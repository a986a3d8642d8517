import type { JointName } from './names';
import type { ModelSds } from './uncertainty';

/** How far a heel is off the ground that somebody marked as lifted: metres, and how unsure that is. Our own choice. */
export const LIFTED_HEEL = { height: 0.03, sd: 0.02 } as const;

/**
 * What no click tells, in metres. A sole is clicked at its edge, a few millimetres above the ground; the body does not
 * lie in one plane with the feet. Sds from the parametric swing over its bodies and styles.
 */
const SOLE = 0.002;
const MODEL: ModelSds = {
  heights: { 'stride-heel': SOLE, 'stride-toe': SOLE, 'rear-heel': SOLE, 'rear-toe': SOLE },
  depths: {
    head: 0.05,
    belt: 0.05,
    'front-knee': 0.05,
    'front-ankle': 0.05,
    'front-shoulder': 0.05,
    'rear-shoulder': 0.05,
  },
};

/** The model's sds with the given points of the feet off the ground. */
export const sdsOf = (lifted: readonly JointName[]): ModelSds => ({
  ...MODEL,
  heights: { ...MODEL.heights, ...Object.fromEntries(lifted.map((joint) => [joint, LIFTED_HEEL.sd])) },
});
