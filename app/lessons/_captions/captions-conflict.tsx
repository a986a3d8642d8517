'use client';

import { Dialog } from '@/app/_ui/dialog';
import { parseVtt } from '@/lib/domain/captions/parse-vtt';
import { transcriptOf } from '@/lib/domain/captions/find-cue';
import type { CaptionsKeeper, CaptionsSnapshot } from '@/lib/review/captions/captions-keeper';

type Props = { keeper: CaptionsKeeper; snapshot: Readonly<CaptionsSnapshot> };

/** Two people wrote captions at the same time: both lists are shown, one is chosen, nothing is overwritten unseen. */
export const CaptionsConflict = ({ keeper, snapshot }: Props) => {
  const { state, theirs, cues } = snapshot;
  if (state !== 'conflict' || theirs === null) return null;
  const theirCues = theirs === '' ? [] : parseVtt(theirs).cues;
  return (
    <Dialog
      isOpen
      // Closing it chooses what is here; what stood there can still be read until the next save.
      onClose={() => keeper.settle({ keep: 'mine' })}
      title="These captions were changed somewhere else"
      footer={
        <>
          <button
            type="button"
            className="btn"
            onClick={() => keeper.settle({ keep: 'theirs', cues: theirCues })}
          >
            Take theirs
          </button>
          <button type="button" className="btn do" onClick={() => keeper.settle({ keep: 'mine' })}>
            Keep mine
          </button>
        </>
      }
      isLarge
    >
      <p>
        While you wrote here, other captions were kept. Choose one of the two; if you take theirs, “Take back”
        still brings yours again.
      </p>
      <h3>Theirs, {theirCues.length} captions</h3>
      <p className="small">{transcriptOf(theirCues) || 'None.'}</p>
      <h3>Yours, {cues.length} captions</h3>
      <p className="small">{transcriptOf(cues) || 'None.'}</p>
    </Dialog>
  );
};
