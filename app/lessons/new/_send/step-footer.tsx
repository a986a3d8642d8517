import { Icon } from '@/app/_ui/icon';
import { STEPS, type StepId } from './send-types';

const NEXT = {
  clip: 'Next: this swing',
  'this-swing': 'Next: your question',
  question: 'Next: check and send',
  send: 'Send it',
} as const satisfies Record<StepId, string>;

type Props = {
  step: StepId;
  isSending: boolean;
  /** Something on this step is open and was pointed out: the next press goes on all the same. */
  isPointedOut: boolean;
  onBack: (to: StepId) => void;
  onNext: () => void;
};

/** The row at the thumb: one step back, and the page's one action. */
export const StepFooter = ({ step, isSending, isPointedOut, onBack, onNext }: Props) => {
  const before = STEPS[STEPS.findIndex((one) => one.id === step) - 1];
  return (
    <>
      {before && (
        <button
          type="button"
          className="btn"
          aria-label={`Back to ${before.word.toLowerCase()}`}
          onClick={() => onBack(before.id)}
        >
          <Icon name="left" />
        </button>
      )}
      <button type="button" className="btn do big" aria-disabled={isSending} onClick={onNext}>
        {isSending ? 'Sending …' : isPointedOut ? 'Go on, answer it later' : NEXT[step]}
      </button>
    </>
  );
};
