import { demoId } from './ids';
import { DEMO_PEOPLE } from './people';

/** Who pays for a lesson of the demo: the sender, or the first confirmed guardian of a minor who sends alone. */
export function payerOfDemo({ player, sentBy }: { player: string; sentBy: string }): string {
  const person = DEMO_PEOPLE.find((one) => one.key === player);
  const isYoung = person?.age != null && person.age < 18;
  const guardian = person?.guardians?.find((one) => one.isConfirmed);
  return demoId(isYoung && sentBy === player && guardian ? guardian.key : sentBy);
}
