import type { Verdict } from '@/lib/domain/checkpoints/checkpoint';
import { TO_JUDGE, VERDICT_WORD } from '@/lib/domain/lessons/words';

const edge = <path d="M2 2h12v12H2Z" fill="none" stroke="currentColor" strokeWidth="2" />;
const SHAPE = {
  set: <path d="M1 1h14v14H1Z" fill="currentColor" />,
  close: (
    <>
      {edge}
      <path d="M2 8h12v6H2Z" fill="currentColor" />
    </>
  ),
  off: edge,
  not_seen: <path d="M1 8h14" stroke="currentColor" strokeWidth="2.5" />,
} as const satisfies Record<Verdict, React.ReactNode>;

/** Only the shape of a verdict (a dot for none yet), for rows that write the word themselves. */
export const VerdictShape = ({ verdict }: { verdict: Verdict | null }) => (
  <svg viewBox="0 0 16 16" aria-hidden="true" focusable="false">
    {verdict ? SHAPE[verdict] : <circle cx="8" cy="8" r="2" fill="currentColor" />}
  </svg>
);

/** A verdict as shape and word; null is an item still to judge, which never looks like `off`. `word` overrides. */
export const VerdictMark = ({ verdict, word }: { verdict: Verdict | null; word?: string }) => (
  <span className={verdict ? 'v' : 'v wait'}>
    <VerdictShape verdict={verdict} />
    {word ?? (verdict ? VERDICT_WORD[verdict] : TO_JUDGE)}
  </span>
);
