'use client';

import { Icon } from '@/app/_ui/icon';
import { putCue, removeCue } from '@/lib/domain/review/edits';
import { CUES_TO_KEEP } from '@/lib/domain/review/missing';
import { CUE_FOCUS, type Sheet } from '@/lib/domain/review/sheet';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';
import css from './bench.module.css';

const FOCUS_WORD = { external: 'on the ball or the field', internal: 'on the body' } as const;

/** The cues of a lesson: short sentences to swing by, best three at most. */
export const CueList = ({ sheet, saver }: { sheet: Sheet; saver: SheetSaver | null }) => (
  <section className={css.cues} aria-label="Cues">
    <p className={css.sub}>
      <span className="over">Cues</span>
      <button
        type="button"
        className="btn small"
        disabled={!saver || sheet.cues.length >= 12}
        onClick={() =>
          saver?.edit((all) => putCue(all, { id: crypto.randomUUID(), text: '', focus: 'external' }))
        }
      >
        Add a cue
      </button>
    </p>
    {sheet.cues.length > CUES_TO_KEEP ? (
      <p className="small" role="status">
        {sheet.cues.length} cues. More than three are hard to keep in mind: which would you drop?
      </p>
    ) : null}
    <ul>
      {sheet.cues.map((cue, index) => (
        <li key={cue.id} className={css.cue}>
          <input
            className="write"
            data-cue={cue.id}
            aria-label={`Cue ${index + 1}`}
            maxLength={140}
            placeholder="One short sentence"
            value={cue.text}
            onChange={(event) => saver?.edit((all) => putCue(all, { ...cue, text: event.target.value }))}
          />
          <button
            type="button"
            className={css.tool1}
            aria-label={`Take cue ${index + 1} away`}
            onClick={() => saver?.edit((all) => removeCue(all, cue.id))}
          >
            <Icon name="cross" />
          </button>
          <label className="small soft">
            Attention{' '}
            <select
              className={css.strike}
              value={cue.focus}
              onChange={(event) => {
                const focus = CUE_FOCUS.find((one) => one === event.target.value) ?? 'external';
                saver?.edit((all) => putCue(all, { ...cue, focus }));
              }}
            >
              {CUE_FOCUS.map((focus) => (
                <option key={focus} value={focus}>
                  {FOCUS_WORD[focus]}
                </option>
              ))}
            </select>
          </label>
        </li>
      ))}
    </ul>
  </section>
);
