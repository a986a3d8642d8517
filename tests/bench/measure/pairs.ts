import { partnerFrame, type PairedClip } from '@/lib/review/compare/pairing';
import { between, chanceOf, oneOf, type Chance } from '../../support/measures/filming';
import { seeded } from '../../support/swing/scene/random';

const PAIRS = 200;
const RATES = [
  { capture: 30, file: 30 },
  { capture: 60, file: 60 },
  { capture: 120, file: 30 },
  { capture: 240, file: 30 },
  { capture: 240, file: 240 },
] as const;

// Frames as unevenly as from a phone, now and then one missing, in microseconds of the file.
function aClip(chance: Chance): PairedClip {
  const { capture, file } = oneOf(chance, RATES);
  const ptsUs: number[] = [];
  let taken = Math.floor(between(chance, 0, 3));
  for (let i = 0; i < 90; i++) {
    taken += chance.even() < 0.03 ? 2 : 1;
    ptsUs.push(Math.round(((taken + between(chance, -0.2, 0.2)) * 1e6) / file));
  }
  return { ptsUs, stretch: capture / file, lockedFrame: Math.floor(between(chance, 20, 70)) };
}

const realUs = ({ ptsUs, stretch, lockedFrame }: PairedClip, frame: number) =>
  (ptsUs[frame]! - ptsUs[lockedFrame]!) / stretch;

/** Over generated pairs of clips of unlike rates: frames beside which another one of the partner was taken nearer in time. */
export function wrongPairs(seed: number): number {
  const chance = chanceOf(seeded(seed));
  let wrong = 0;
  for (let i = 0; i < PAIRS; i++) {
    const [one, other] = [aClip(chance), aClip(chance)];
    one.ptsUs.forEach((_, frame) => {
      const time = realUs(one, frame);
      const off = (partner: number) => Math.abs(realUs(other, partner) - time);
      const chosen = off(partnerFrame(one, frame, other));
      // A hair of rounding between two that are equally near is no fault.
      if (other.ptsUs.some((__, partner) => off(partner) < chosen - 1e-6)) wrong++;
    });
  }
  return wrong;
}
