'use client';

import { Icon } from '@/app/_ui/icon';
import { WEEKDAYS } from '@/lib/domain/desk/hours';
import type { HoursDraft } from '@/lib/domain/desk/hours-draft';
import css from './hours.module.css';

type Week = HoursDraft['week'];
type Props = { week: Week; onChange: (week: Week) => void };

const MOST = 3;
const replaced = <T,>(list: readonly T[], at: number, one: T): T[] =>
  list.map((old, i) => (i === at ? one : old));

/** A week of working hours: a line for each day with its stretches, each two times of the clock. */
export const WeekField = ({ week, onChange }: Props) => {
  const setDay = (day: number, stretches: Week[number]) => onChange(replaced(week, day, stretches));
  return (
    <fieldset className="q">
      <legend>The week</legend>
      <p className="hint small soft">
        A day without times is closed. Midnight at the end of a day is 12:00 am.
      </p>
      <ul className={css.week}>
        {WEEKDAYS.map((name, day) => (
          <li key={name} className={css.day}>
            <b>{name}</b>
            <div className={css.stretches}>
              {(week[day] ?? []).length === 0 ? <span className="soft">closed</span> : null}
              {(week[day] ?? []).map((stretch, i, all) => {
                const which = all.length > 1 ? `${name}, stretch ${i + 1}` : name;
                const set = (change: Partial<typeof stretch>) =>
                  setDay(day, replaced(all, i, { ...stretch, ...change }));
                return (
                  <span key={i} className={css.stretch}>
                    <input
                      className="write"
                      type="time"
                      aria-label={`${which}, from`}
                      value={stretch.from}
                      onChange={(event) => set({ from: event.target.value })}
                    />
                    to
                    <input
                      className="write"
                      type="time"
                      aria-label={`${which}, to`}
                      value={stretch.to}
                      onChange={(event) => set({ to: event.target.value })}
                    />
                    <button
                      type="button"
                      className="btn bare"
                      aria-label={`Remove ${which}`}
                      onClick={() =>
                        setDay(
                          day,
                          all.filter((_, at) => at !== i),
                        )
                      }
                    >
                      <Icon name="cross" />
                    </button>
                  </span>
                );
              })}
            </div>
            <span className={css.dayActs}>
              {(week[day] ?? []).length < MOST ? (
                <button
                  type="button"
                  className="linklike"
                  aria-label={`Add hours to ${name}`}
                  onClick={() => setDay(day, [...(week[day] ?? []), { from: '', to: '' }])}
                >
                  Add hours
                </button>
              ) : null}
              {day === 0 ? (
                <button
                  type="button"
                  className="linklike"
                  onClick={() => onChange(week.map((old, i) => (i < 5 ? (week[0] ?? []) : old)))}
                >
                  Same until Friday
                </button>
              ) : null}
            </span>
          </li>
        ))}
      </ul>
    </fieldset>
  );
};
