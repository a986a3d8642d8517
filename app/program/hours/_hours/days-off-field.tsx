'use client';

import { TextField } from '@/app/_ui/field';
import { Icon } from '@/app/_ui/icon';
import type { HoursDraft } from '@/lib/domain/desk/hours-draft';
import css from './hours.module.css';

type DaysOff = HoursDraft['daysOff'];
type Props = {
  legend: string;
  hint: string;
  example: string;
  daysOff: DaysOff;
  onChange: (daysOff: DaysOff) => void;
};

/** Days on which nobody works, each line with its first and last day and a name. */
export const DaysOffField = ({ legend, hint, example, daysOff, onChange }: Props) => (
  <fieldset className="q">
    <legend>{legend}</legend>
    <p className="hint small soft">{hint}</p>
    {daysOff.length > 0 ? (
      <ul className={css.offs}>
        {daysOff.map((off, i) => {
          const set = (change: Partial<typeof off>) =>
            onChange(daysOff.map((old, at) => (at === i ? { ...old, ...change } : old)));
          return (
            <li key={i} className={css.off}>
              <TextField
                label="First day"
                type="date"
                value={off.from}
                onChange={(event) => set({ from: event.target.value })}
              />
              <TextField
                label="Last day"
                type="date"
                value={off.to}
                min={off.from}
                onChange={(event) => set({ to: event.target.value })}
              />
              <TextField
                label="Name"
                value={off.name}
                maxLength={60}
                placeholder={example}
                onChange={(event) => set({ name: event.target.value })}
              />
              <button
                type="button"
                className="btn bare"
                aria-label={`Remove ${off.name.trim() || 'this line'}`}
                onClick={() => onChange(daysOff.filter((_, at) => at !== i))}
              >
                <Icon name="cross" />
              </button>
            </li>
          );
        })}
      </ul>
    ) : null}
    <button
      type="button"
      className="btn small"
      onClick={() => onChange([...daysOff, { from: '', to: '', name: '' }])}
    >
      Add days off
    </button>
  </fieldset>
);
