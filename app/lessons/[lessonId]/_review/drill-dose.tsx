'use client';

import { forHand } from '@/app/practice/_practice/ground-drawing';
import { GroundEditor } from '@/app/practice/_practice/ground-editor';
import css from '@/app/practice/_practice/practice.module.css';
import { doseSchema, DRILL_STAGES, STAGE_WORD, type Dose } from '@/lib/domain/drills/dose';
import type { Drill } from '@/lib/domain/drills/drill';
import type { Hand } from '@/lib/domain/lessons/state';
import type { SheetAssignment } from '@/lib/domain/review/sheet';

type Props = {
  given: SheetAssignment;
  /** null when this version has left the library. */
  drill: Drill | null;
  bats: Hand | null;
  onChange: (given: SheetAssignment) => void;
};

const NUMBERS = [
  ['sets', 'Sets', 10],
  ['reps', 'Swings a set', 30],
  ['restSeconds', 'Rest, seconds', 600],
  ['daysAWeek', 'Days a week', 7],
] as const satisfies readonly (readonly [keyof Dose, string, number])[];

/** How much and how one drill is to be practised, its cue, and whether a swing is asked for. */
export const DrillDose = ({ given, drill, bats, onChange }: Props) => {
  const { dose } = given;
  const set = (change: Partial<Dose>) => {
    const next = doseSchema.safeParse({ ...dose, ...change });
    if (next.success) onChange({ ...given, dose: next.data });
  };
  const drawing = drill?.drawing ? forHand(drill.drawing, bats) : null;
  const chooseStage = (stage: Dose['stage']) =>
    set({ stage, tee: stage === 'tee' ? (dose.tee ?? drawing?.tee ?? { x: 0.4, y: 0 }) : null });
  return (
    <div className={css.given}>
      <div className={css.pair}>
        {NUMBERS.map(([key, label, most]) => (
          <label key={key} className="small">
            {label}
            <input
              className="write"
              type="number"
              min={key === 'restSeconds' ? 0 : 1}
              max={most}
              value={dose[key]}
              onChange={(event) => set({ [key]: Number(event.target.value) })}
            />
          </label>
        ))}
      </div>
      <label className="small">
        How the ball comes
        <select
          className="write"
          value={dose.stage}
          onChange={(event) =>
            chooseStage(DRILL_STAGES.find((stage) => stage === event.target.value) ?? 'tee')
          }
        >
          {(drill?.stages ?? DRILL_STAGES).map((stage) => (
            <option key={stage} value={stage}>
              {STAGE_WORD[stage]}
            </option>
          ))}
        </select>
      </label>
      {drawing && dose.tee ? (
        <GroundEditor
          drawing={{ ...drawing, tee: dose.tee }}
          handles={['tee']}
          onChange={(next) => set({ tee: next.tee })}
        />
      ) : null}
      <label className={css.tick}>
        <input
          type="checkbox"
          checked={dose.hasFeedback}
          onChange={(event) => set({ hasFeedback: event.target.checked })}
        />
        <span className="small">Somebody tells, or a replay shows, how each swing went</span>
      </label>
      <label className="small">
        Cue for this drill
        <input
          className="write"
          maxLength={140}
          value={given.cue}
          onChange={(event) => onChange({ ...given, cue: event.target.value })}
        />
      </label>
      <label className="small">
        When to stop
        <input
          className="write"
          maxLength={200}
          value={dose.stopRule}
          onChange={(event) => set({ stopRule: event.target.value })}
        />
      </label>
      <label className="small">
        Ask for a swing by
        <input
          className="write"
          type="date"
          value={given.swingBy ?? ''}
          onChange={(event) => onChange({ ...given, swingBy: event.target.value || null })}
        />
      </label>
      <p className="small soft">
        How much is your own choice: no study read fixes sets or swings. Two weeks is when practice starts to
        show.
      </p>
    </div>
  );
};
