'use client';

import { useState, useTransition, type FormEvent } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { TextArea, TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { GroundEditor } from '@/app/practice/_practice/ground-editor';
import css from '@/app/practice/_practice/practice.module.css';
import { DRILL_STAGES, STAGE_WORD, type DrillStage } from '@/lib/domain/drills/dose';
import { drillSchema, type DrillId, type DrillText } from '@/lib/domain/drills/drill';
import { saveDrillAction } from '../actions';

export type ItemChoice = { id: string; title: string };

type Props = {
  start: DrillText;
  /** The version that this one takes the place of. */
  replaces: DrillId | null;
  items: readonly ItemChoice[];
  onDone: () => void;
  onCancel: () => void;
};

const linesOf = (text: string) =>
  text
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean);

/** Everything about one drill: words, how the ball comes, the drawing, safety, and what it helps. */
export const DrillForm = ({ start, replaces, items, onDone, onCancel }: Props) => {
  const [drill, setDrill] = useState(start);
  const [steps, setSteps] = useState(start.steps.join('\n'));
  const [safety, setSafety] = useState(start.safety.join('\n'));
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, begin] = useTransition();
  const set = (change: Partial<DrillText>) => setDrill((before) => ({ ...before, ...change }));
  const toggleStage = (stage: DrillStage, isOn: boolean) =>
    set({ stages: DRILL_STAGES.filter((one) => (one === stage ? isOn : drill.stages.includes(one))) });
  const keep = (event: FormEvent) => {
    event.preventDefault();
    const parsed = drillSchema.safeParse({ ...drill, steps: linesOf(steps), safety: linesOf(safety) });
    if (!parsed.success) {
      return setRefusal(parsed.error.issues[0]?.message ?? 'Something does not fit.');
    }
    begin(async () => {
      const answer = await answerOf(
        saveDrillAction({ drill: parsed.data, replaces }),
        'The connection is lost. What you wrote is kept; press again.',
      );
      if (!answer.ok) return setRefusal(answer.message);
      onDone();
    });
  };
  return (
    <form
      className={css.panel}
      onSubmit={keep}
      aria-label={replaces ? `New version of ${start.title}` : 'New drill'}
    >
      <TextField
        label="Name"
        value={drill.title}
        maxLength={80}
        onChange={(event) => set({ title: event.target.value })}
      />
      <TextArea
        label="What it is for"
        value={drill.summary}
        maxLength={400}
        onChange={(event) => set({ summary: event.target.value })}
      />
      <TextArea
        label="Steps, one a line"
        rows={5}
        value={steps}
        onChange={(event) => setSteps(event.target.value)}
      />
      <fieldset>
        <legend>How the ball comes, from easy to hard</legend>
        {DRILL_STAGES.map((stage) => (
          <label key={stage} className={css.tick}>
            <input
              type="checkbox"
              checked={drill.stages.includes(stage)}
              onChange={(event) => toggleStage(stage, event.target.checked)}
            />
            <span>{STAGE_WORD[stage]}</span>
          </label>
        ))}
      </fieldset>
      {drill.drawing ? (
        <GroundEditor
          drawing={drill.drawing}
          handles={['tee', 'frontFoot', 'backFoot']}
          canAim
          onChange={(drawing) => set({ drawing })}
        />
      ) : null}
      <TextArea
        label="Safety, one line each"
        value={safety}
        onChange={(event) => setSafety(event.target.value)}
      />
      <fieldset>
        <legend>What it helps</legend>
        {items.map((item) => (
          <label key={item.id} className={css.tick}>
            <input
              type="checkbox"
              checked={drill.itemIds.includes(item.id)}
              onChange={(event) =>
                set({
                  itemIds: event.target.checked
                    ? [...drill.itemIds, item.id]
                    : drill.itemIds.filter((id) => id !== item.id),
                })
              }
            />
            <span>{item.title}</span>
          </label>
        ))}
      </fieldset>
      <TextField
        label="Where it comes from"
        hint="A study with its place, or: common practice, no source."
        value={drill.standing}
        maxLength={200}
        onChange={(event) => set({ standing: event.target.value })}
      />
      {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      <p className="acts">
        <button type="submit" className="btn do" disabled={isBusy}>
          {replaces ? 'Keep the new version' : 'Put it in the library'}
        </button>
        <button type="button" className="btn quiet" onClick={onCancel}>
          Leave it
        </button>
      </p>
    </form>
  );
};
