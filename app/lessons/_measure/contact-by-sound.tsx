'use client';

import { useEffect, useRef, useState } from 'react';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { FrameTable } from '@/lib/domain/clips/frame-table';
import { contactBySound } from '@/lib/domain/measures/sound-peak';
import { CagepostError } from '@/lib/domain/shared/errors';
import { readSound } from '@/lib/review/media/clip-sound';
import { nearestFrame } from '@/lib/review/media/frame-lookup';
import css from './measure.module.css';

type Props = {
  clip: ClipOnPage;
  table: FrameTable;
  /** The frame on which contact is pinned, if it is. */
  pinned: number | null;
  onGo: (frame: number) => void;
};

type State = { is: 'idle' } | { is: 'busy' } | { is: 'found'; frame: number } | { is: 'none'; words: string };

/** Suggests the frame of contact by the crack of bat on ball. It only points: the coach looks and pins. */
export const ContactBySound = ({ clip, table, pinned, onGo }: Props) => {
  const [state, setState] = useState<State>({ is: 'idle' });
  const stop = useRef<AbortController | null>(null);
  useEffect(() => () => stop.current?.abort(), []);
  const listen = async () => {
    const own = new AbortController();
    stop.current = own;
    setState({ is: 'busy' });
    try {
      const sound = await readSound(clip.video, own.signal);
      const seconds = sound && contactBySound(sound.samples, sound.sampleRate);
      if (own.signal.aborted) return;
      setState(
        seconds !== null
          ? { is: 'found', frame: nearestFrame(table.ptsUs, seconds * 1e6) }
          : {
              is: 'none',
              words: sound
                ? 'Nothing in the sound stands out as a hit. Find contact in the strip.'
                : 'The clip has no sound that this browser can read. Find contact in the strip.',
            },
      );
    } catch (error) {
      if (own.signal.aborted) return;
      const words =
        error instanceof CagepostError ? error.forPeople : 'The sound could not be loaded. Try once more.';
      setState({ is: 'none', words });
    }
  };
  if (state.is === 'found') {
    return pinned === state.frame ? null : (
      <div className={css.suggested} role="status">
        <p className="small">
          Suggested, not pinned: <b>frame {state.frame}</b>, by the sound. Sound comes 3 milliseconds late for
          each metre, so look at the frame before it too.
        </p>
        <button type="button" className="btn small" onClick={() => onGo(state.frame)}>
          Look at frame {state.frame}
        </button>
      </div>
    );
  }
  return (
    <p className="small">
      <button type="button" className="linklike" disabled={state.is === 'busy'} onClick={() => void listen()}>
        {state.is === 'busy' ? 'Listening' : 'Suggest contact by the sound'}
      </button>
      {state.is === 'none' ? <span role="status"> {state.words}</span> : null}
    </p>
  );
};
