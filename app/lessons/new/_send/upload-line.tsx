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
    </div>
  );
};

/** All clips of the lesson as one journey, for the line that stays in sight on every step; null with nothing to tell. */
export const togetherOf = (all: readonly Going[]): Going | null => {
  const failed = all.find((going) => going.kind === 'failed');
  if (failed) return failed;
  const moving = all.filter((going) => 'totalBytes' in going);
  if (moving.length === 0) {
    if (all.length > 0 && all.every((going) => going.kind === 'stored')) return { kind: 'stored' };
    return all.find((going) => going.kind === 'waiting' || going.kind === 'held') ?? null;
  }
  const sentBytes = moving.reduce((sum, going) => sum + going.sentBytes, 0);
  const totalBytes = moving.reduce((sum, going) => sum + going.totalBytes, 0);
  const sending = moving.filter((going) => going.kind === 'sending');
  if (sending.length === 0) {
    return {
      kind: moving.some((going) => going.kind === 'offline') ? 'offline' : 'paused',
      sentBytes,
      totalBytes,
    };
  }
  const left = sending.map((going) => going.secondsLeft);
  const secondsLeft = left.includes(null) ? null : left.reduce<number>((sum, one) => sum + (one ?? 0), 0);
  const note = sending.find((going) => going.note)?.note ?? null;
  return { kind: 'sending', sentBytes, totalBytes, secondsLeft, note };
};
