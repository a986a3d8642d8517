import type { LessonState } from '@/lib/domain/lessons/state';
import { STATE_WORD } from '@/lib/domain/lessons/words';

// Home at the bottom, run to the right first.
const WHOLE = 'M12 21.5 21.5 12 12 2.5 2.5 12Z';
const RUN = {
  draft: null,
  submitted: 'M12 21.5 21.5 12',
  in_review: 'M12 21.5 21.5 12 12 2.5',
  returned: 'M12 21.5 21.5 12 12 2.5 2.5 12',
  closed: WHOLE,
  withdrawn: null,
} as const satisfies Record<LessonState, string | null>;

/** A lesson's state as a base path inked side by side, its word always beside it. `word` may say it more exactly. */
export const StatePath = ({ state, word }: { state: LessonState; word?: string }) => (
  <span className="state">
    <svg viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      <path className={state === 'withdrawn' ? 'path broken' : 'path'} d={WHOLE} />
      {RUN[state] && <path className={state === 'closed' ? 'whole' : 'inked'} d={RUN[state]} />}
      {state === 'withdrawn' && <path className="bar" d="M6 12h12" />}
    </svg>
    {word ?? STATE_WORD[state]}
  </span>
);
