import { Progress } from '@/app/_ui/progress';
import { leftWords, sentWords } from './size-words';
import type { Going } from './send-types';

/** How a clip's journey reads: a bold line, the bar's share, and what is left in words. */
export const goingWords = (going: Going): { title: string; detail: string | null; share: number | null } => {
  switch (going.kind) {
    case 'held':
      return { title: 'Waits for your cut', detail: null, share: null };
    case 'waiting':
      return { title: 'Starts in a moment', detail: null, share: null };
    case 'sending': {
      const left = going.secondsLeft === null ? '' : `, ${leftWords(going.secondsLeft)}`;
      return {
        title: 'On its way',
        detail: `${sentWords(going.sentBytes, going.totalBytes)}${left}`,
        share: going.sentBytes / Math.max(1, going.totalBytes),
      };
    }
    case 'paused':
      return {
        title: 'Paused',
        detail: `${sentWords(going.sentBytes, going.totalBytes)} are there`,
        share: going.sentBytes / Math.max(1, going.totalBytes),
      };
    case 'offline':
      return {
        title: 'No network',
        detail: `${sentWords(going.sentBytes, going.totalBytes)} are there. It goes on by itself.`,
        share: going.sentBytes / Math.max(1, going.totalBytes),
      };
    case 'failed':
      return { title: 'Did not go through', detail: going.reason, share: null };
    case 'elsewhere':
      return {
        title: 'On another device',
        detail: 'Open this page on the phone where you picked it and it goes on, or remove it here.',
        share: null,
      };
    case 'stored':
      return { title: 'Your clip is there', detail: null, share: 1 };
    default:
      return going satisfies never;
  }
};

/** The bar and words of one clip on its way. */
export const GoingLine = ({ going, label }: { going: Going; label: string }) => {
  const { title, detail, share } = goingWords(going);
  return (
    <div>
      <p className="small">
        <b>{title}</b>
      </p>
      {share !== null && going.kind !== 'stored' ? (
        <Progress
          label={label}
          done={share}
          words={detail ?? undefined}
          isPaused={going.kind === 'paused' || going.kind === 'offline'}
        />
      ) : (
        detail && <p className="small soft">{detail}</p>
      )}
      {going.kind === 'sending' && going.note && <p className="small soft">{going.note}</p>}
    </div>
  );
};
