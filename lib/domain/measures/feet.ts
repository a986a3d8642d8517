import { asRightHanded } from './camera-facts';
import { boxMiddle } from './field';
import type { Field, JointName } from './names';
import { middleOf, rearFoot, strideFoot, type Scene } from './quantities';
import { norm, sub } from './vector';

/** Metres. Our own choice: what no hitter's foot reaches, however it was clicked. */
const FOOT = { shortest: 0.06, longest: 0.6 } as const;
const FURTHEST = 3;

/**
 * Why the feet cannot be those of the hitter in this box, as a sentence; null when they can. Looks only at feet that
 * the measure needs.
 */
export const feetFault = (scene: Scene, field: Field, needs: readonly JointName[]): string | null => {
  const stride = strideFoot(scene);
  const rear = needs.includes('rear-heel') ? rearFoot(scene) : null;
  const box = asRightHanded(boxMiddle(field, scene.bats), scene.bats);
  for (const [name, foot] of [
    ['stride', stride],
    ['rear', rear],
  ] as const) {
    if (!foot) continue;
    const away = norm(sub(middleOf(foot), box));
    if (away > FURTHEST) {
      return (
        `The ${name} foot comes out ${away.toFixed(1)} m from the middle of the box. Check that the points are on the ` +
        'hitter and that the corners are those of this clip.'
      );
    }
    const length = norm(sub(foot.toe, foot.heel));
    if (length < FOOT.shortest || length > FOOT.longest) {
      return (
        `The ${name} foot comes out ${Math.round(length * 100)} cm long. Set heel and toe anew, where the sole meets the ` +
        'ground.'
      );
    }
  }
  if (stride && rear && middleOf(stride)[0] <= middleOf(rear)[0]) {
    return 'The stride foot comes out further from the pitcher than the rear foot. Check which foot is which.';
  }
  return null;
};
