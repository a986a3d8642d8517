import type { ClipView } from '@/lib/domain/clips/clip';
import type { Hand } from '@/lib/domain/lessons/state';
import { VIEW_WORD } from '@/lib/domain/lessons/words';
import { radioProps, type Choosing } from './choice-group';
import { PlanDrawing } from './plan-drawing';
import { Question } from './question';

// Seen from above with the pitcher at the top: a righty stands left of the plate and shows the right side his chest.
const PLACE = {
  right: { front: 'at-top', behind: 'at-bottom', open_side: 'at-right', back: 'at-left' },
  left: { front: 'at-top', behind: 'at-bottom', open_side: 'at-left', back: 'at-right' },
} as const satisfies Record<Hand, Record<ClipView, string>>;

// Reading order of the radios, so that arrow keys go round the plate.
const ORDER = ['open_side', 'behind', 'back', 'front'] as const satisfies readonly ClipView[];

type Props = Choosing<ClipView> & {
  legend: string;
  /** Decides which side is open; null draws a righty and says so. */
  bats: Hand | null;
  hint?: string;
  error?: string | null;
  id?: string;
  /** What the chosen place is good for, under the plan. */
  words?: string;
};

/** Where the phone stood, on a drawn plan of plate and boxes: four places as a radio group, mirrored for a lefty. */
export const FieldPlan = ({ legend, bats, hint, error, id, words, ...choosing }: Props) => (
  <Question legend={legend} hint={hint} error={error} id={id}>
    <div className="plan">
      <PlanDrawing bats={bats ?? 'right'} view={choosing.value} />
      {ORDER.map((view) => (
        <label key={view} className={`spot ${PLACE[bats ?? 'right'][view]}`}>
          <input {...radioProps(choosing, view)} />
          <span>
            {choosing.value === view && (
              <svg viewBox="0 0 14 22" aria-hidden="true" focusable="false">
                <rect
                  x="1"
                  y="1"
                  width="12"
                  height="20"
                  rx="1.5"
                  fill="none"
                  stroke="currentColor"
                  strokeWidth="2"
                />
                <circle cx="7" cy="7" r="2" fill="currentColor" />
              </svg>
            )}
            {VIEW_WORD[view]}
          </span>
        </label>
      ))}
    </div>
    {words && <p className="small soft">{words}</p>}
  </Question>
);
