import type { ReactNode } from 'react';
import { Question } from './question';

/**
 * The value of a group of radios. With `onChange` the group is controlled (browser files only); without it `value`
 * is what is chosen at first and the form carries the answer under `name`.
 */
export type Choosing<T extends string | number> = {
  name: string;
  value: T | null;
  onChange?: (value: T) => void;
};

/** The attributes of one radio of a group. */
export const radioProps = <T extends string | number>({ name, value, onChange }: Choosing<T>, mine: T) => ({
  type: 'radio' as const,
  name,
  value: mine,
  ...(onChange
    ? { checked: value === mine, onChange: () => onChange(mine) }
    : { defaultChecked: value === mine }),
});

type Choice<T> = { value: T; label: ReactNode; isWhole?: boolean };
type Props<T extends string | number> = Choosing<T> & {
  legend: ReactNode;
  hint?: ReactNode;
  error?: string | null;
  id?: string;
  columns?: 'two' | 'three' | 'four' | 'five';
  choices: readonly Choice<T>[];
  children?: ReactNode;
};

/** A question answered by one of a few boxes; arrow keys move, as radios do. */
export const ChoiceGroup = <T extends string | number>({
  legend,
  hint,
  error,
  id,
  columns = 'two',
  choices,
  children,
  ...choosing
}: Props<T>) => (
  <Question legend={legend} hint={hint} error={error} id={id}>
    <div className={`opts ${columns}`}>
      {choices.map(({ value, label, isWhole }) => (
        <label key={value} className={isWhole ? 'opt whole' : 'opt'}>
          <input {...radioProps(choosing, value)} />
          <span>{label}</span>
        </label>
      ))}
    </div>
    {children}
  </Question>
);
