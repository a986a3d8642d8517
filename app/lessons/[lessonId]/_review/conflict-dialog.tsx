'use client';

import { Dialog } from '@/app/_ui/dialog';
import type { LessonDetail } from '@/lib/domain/lessons/lesson';
import { CHECKPOINT_NAME, CHECKPOINTS } from '@/lib/domain/checkpoints/checkpoint';
import type { Conflict } from '@/lib/domain/review/merge';
import type { SaverSnapshot } from '@/lib/review/drafts/save-state';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';

type Props = { snapshot: SaverSnapshot; saver: SheetSaver | null; lesson: LessonDetail };

/** Two people, or two windows, changed the same things: a person chooses, and until then nothing is sent. */
export const ConflictDialog = ({ snapshot, saver, lesson }: Props) => {
  const { state } = snapshot;
  if (state.is === 'refused') {
    return (
      <Dialog
        isOpen
        onClose={() => saver?.choose('mine')}
        title="This could not be kept"
        footer={
          <>
            <button type="button" className="btn do" onClick={() => saver?.choose('mine')}>
              Try again
            </button>
            <button type="button" className="btn" onClick={() => saver?.choose('theirs')}>
              Drop what I wrote
            </button>
          </>
        }
      >
        <p>{state.sentence}</p>
        <p>
          {state.inBrowser
            ? 'What you wrote is kept on this device.'
            : 'Leave this page open: what you wrote is only here.'}
        </p>
      </Dialog>
    );
  }
  if (state.is !== 'conflict') return null;
  return (
    <Dialog
      isOpen
      onClose={() => saver?.choose('with-mine')}
      title="You both changed this"
      footer={
        <>
          <button type="button" className="btn do" onClick={() => saver?.choose('with-mine')}>
            Both, mine where we differ
          </button>
          <button type="button" className="btn" onClick={() => saver?.choose('theirs')}>
            Theirs
          </button>
          <button type="button" className="btn" onClick={() => saver?.choose('mine')}>
            Mine only
          </button>
        </>
      }
    >
      <p>{state.byName} changed these too. Nothing is lost until you choose.</p>
      <ul>
        {state.conflicts.map((conflict, index) => (
          <li key={index}>{wordsOf(conflict, lesson)}</li>
        ))}
      </ul>
    </Dialog>
  );
};

const wordsOf = ({ thing, key }: Conflict, lesson: LessonDetail): string => {
  switch (thing) {
    case 'pin': {
      const checkpoint = CHECKPOINTS.find((one) => key.endsWith(`/${one}`));
      return checkpoint ? `The frame of ${CHECKPOINT_NAME[checkpoint]}` : 'A pinned frame';
    }
    case 'answer':
      return lesson.checklist.find((item) => item.id === key)?.title ?? 'An item';
    case 'fix-first':
      return 'What to fix first';
    case 'cue':
      return 'A cue';
    case 'mark':
      return 'A mark';
    case 'calibration':
      return 'The calibration of the ground';
    case 'point':
      return 'A point of the hitter';
    case 'assignment':
      return 'A drill to practise';
    case 'order of cues':
      return 'The order of the cues';
  }
};
