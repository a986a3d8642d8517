'use client';

import { SelectField, TextArea, TextField } from '@/app/_ui/field';
import { Question } from '@/app/_ui/question';
import { CHECKPOINT_NAME, CHECKPOINTS, type Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import { CLIP_VIEWS } from '@/lib/domain/clips/clip';
import { VIEW_WORD } from '@/lib/domain/lessons/words';
import type { Line } from './lines';

type Props = { line: Line; onChange: (line: Line) => void; onDone: () => void };

/** Everything about one item: name, what to look for, checkpoint, views, and where it comes from. */
export const LineForm = ({ line, onChange, onDone }: Props) => {
  const set = (change: Partial<Line>) => onChange({ ...line, ...change });
  return (
    <div className="stack read" role="group" aria-label={line.title || 'A new item'}>
      <TextField
        label="Name"
        hint={
          line.id
            ? 'The same thing in better words. If it is to judge something else, retire it and add a new one.'
            : undefined
        }
        value={line.title}
        maxLength={80}
        autoFocus
        onChange={(event) => set({ title: event.target.value })}
      />
      <TextArea
        label="What to look for"
        value={line.lookFor}
        maxLength={400}
        onChange={(event) => set({ lookFor: event.target.value })}
      />
      <SelectField
        label="Checkpoint"
        value={line.checkpoint}
        onChange={(event) => set({ checkpoint: event.target.value as Checkpoint })}
      >
        {CHECKPOINTS.map((checkpoint) => (
          <option key={checkpoint} value={checkpoint}>
            {CHECKPOINT_NAME[checkpoint]}
          </option>
        ))}
      </SelectField>
      <Question
        legend="Judged from"
        hint="Every view that shows it."
        error={line.views.length === 0 ? 'Choose at least one view.' : null}
      >
        <div className="opts two">
          {CLIP_VIEWS.map((view) => (
            <label key={view} className="opt">
              <input
                type="checkbox"
                checked={line.views.includes(view)}
                onChange={(event) =>
                  set({
                    views: CLIP_VIEWS.filter((one) =>
                      one === view ? event.target.checked : line.views.includes(one),
                    ),
                  })
                }
              />
              <span>{VIEW_WORD[view]}</span>
            </label>
          ))}
        </div>
      </Question>
      <TextField
        label="Where it comes from"
        hint="A study with its place, or: common practice, no source. Write no normal range that no study supports."
        value={line.standing}
        maxLength={120}
        onChange={(event) => set({ standing: event.target.value })}
      />
      <p className="acts">
        <button type="button" className="btn" onClick={onDone}>
          Done with this item
        </button>
      </p>
    </div>
  );
};
