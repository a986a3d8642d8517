import { ChoiceGroup, type Choosing } from './choice-group';

const LEVELS = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10];

type Props = Choosing<number> & { legend: string; hint?: string; error?: string | null; id?: string };

/** Pain from 0 to 10 (the eleven steps of a numeric rating scale). Nothing is chosen beforehand: pass null. */
export const PainScale = ({ legend, hint, error, id, ...choosing }: Props) => (
  <ChoiceGroup
    {...choosing}
    legend={legend}
    hint={hint}
    error={error}
    id={id}
    columns="five"
    choices={LEVELS.map((level) => ({
      value: level,
      label: level === 0 ? '0, no pain' : level,
      isWhole: level === 0,
    }))}
  >
    <p className="ends small soft">
      <span>1: barely there</span>
      <span>10: the worst</span>
    </p>
  </ChoiceGroup>
);
