'use client';

import { useEffect, useRef, useState, useSyncExternalStore } from 'react';
import { Icon } from '@/app/_ui/icon';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { clockOfMs } from '@/lib/domain/breakdowns/moment-link';
import { CagepostError } from '@/lib/domain/shared/errors';
import { type Listening, openListen } from './open-listen';
import css from './record.module.css';
import { RemarkPick } from './record-remarks';
import type { Recording } from './use-recording';

type Props = { recording: Recording; clips: readonly ClipOnPage[] };

const KIND_WORD = { voice: 'spoken', silent: 'without a voice', remark: 'remark from your shelf' } as const;
const nothing = () => () => {};
const none = () => null;

/** What was recorded, to be listened to and cut before it is kept. Nothing that is left out is lost. */
export const RecordListen = ({ recording, clips }: Props) => {
  const { session, snapshot, setView } = recording;
  const { pieces, canUndo } = snapshot;
  const stage = useRef<HTMLDivElement>(null);
  const [listening, setListening] = useState<Listening | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [from, setFrom] = useState<number | null>(null);
  // Where to stand once what was cut is joined anew.
  const goal = useRef(0);
  const newest = useRef(clips);
  useEffect(() => {
    newest.current = clips;
  });

  useEffect(() => {
    const book = session?.book();
    if (!book || !stage.current || pieces.length === 0) return;
    const stop = new AbortController();
    let opened: Listening | null = null;
    openListen({
      book,
      clips: newest.current,
      stage: stage.current,
      startMs: goal.current,
      signal: stop.signal,
    })
      .then((made) => {
        if (stop.signal.aborted) return made.dispose();
        opened = made;
        setFault(null);
        setListening(made);
      })
      .catch((error: unknown) => {
        if (stop.signal.aborted) return;
        setFault(
          error instanceof CagepostError ? error.forPeople : 'This cannot be played here. It is still kept.',
        );
      });
    return () => {
      stop.abort();
      opened?.dispose();
      setListening(null);
    };
  }, [session, pieces]);

  const shown = useSyncExternalStore(
    listening?.replay.subscribe ?? nothing,
    listening?.replay.getSnapshot ?? none,
    none,
  );
  const replay = listening?.replay;
  const ms = Math.round(shown?.ms ?? 0);
  const change = (work: Promise<void> | undefined, at: number) => {
    goal.current = at;
    setFrom(null);
    void work;
  };
  const starts = pieces.map((_, index) =>
    pieces.slice(0, index).reduce((sum, piece) => sum + piece.toMs - piece.fromMs, 0),
  );
  return (
    <section className={css.listen} aria-label="Listen to the breakdown and cut it">
      <div ref={stage} className={css.replay} data-replay-frame={shown?.shown?.frame} />
      <p className={css.caption} aria-live="polite">
        {shown?.caption}
      </p>
      <div className={css.controls}>
        <button
          type="button"
          className="btn bare"
          aria-label={shown?.state === 'playing' ? 'Pause' : 'Play'}
          disabled={!replay}
          onClick={() => replay?.toggle()}
        >
          <Icon name={shown?.state === 'playing' ? 'pause' : 'play'} />
        </button>
        <input
          className={css.seek}
          type="range"
          min={0}
          max={Math.max(1, shown?.durationMs ?? 1)}
          step={100}
          value={ms}
          aria-label="Moment of the breakdown"
          aria-valuetext={`${clockOfMs(ms)} of ${clockOfMs(shown?.durationMs ?? 0)}`}
          disabled={!replay}
          onChange={(event) => replay?.seek(Number(event.target.value))}
        />
        <span className="num small">
          {clockOfMs(ms)} of {clockOfMs(shown?.durationMs ?? 0)}
        </span>
      </div>
      <div className={css.cuts}>
        <button
          type="button"
          className="btn small"
          disabled={!replay}
          onClick={() => {
            setView('none');
            void session?.againFrom(ms);
          }}
        >
          Again from here
        </button>
        <button
          type="button"
          className="btn small"
          disabled={!replay}
          onClick={() => change(session?.cutBackTo(ms), ms)}
        >
          End it here
        </button>
        {from === null ? (
          <button type="button" className="btn small" disabled={!replay} onClick={() => setFrom(ms)}>
            Leave out from here
          </button>
        ) : (
          <>
            <button
              type="button"
              className="btn small"
              disabled={!replay || Math.abs(ms - from) < 100}
              onClick={() => change(session?.removeStretch(from, ms), Math.min(from, ms))}
            >
              Leave out {clockOfMs(Math.min(from, ms))} to {clockOfMs(Math.max(from, ms))}
            </button>
            <button type="button" className="btn small" onClick={() => setFrom(null)}>
              Leave nothing out
            </button>
          </>
        )}
        <RemarkPick onPick={(remark) => change(session?.insertRemark(remark, ms), ms)} isOff={!replay} />
        <button
          type="button"
          className="btn small"
          disabled={!canUndo}
          onClick={() => change(session?.undo(), ms)}
        >
          Take the last cut back
        </button>
      </div>
      <ol className={css.pieces} aria-label="Pieces">
        {pieces.map((piece, index) => (
          <li key={`${piece.segmentId}-${piece.fromMs}-${index}`}>
            <button
              type="button"
              className="linklike"
              disabled={!replay}
              onClick={() => replay?.seek(starts[index] ?? 0)}
            >
              {clockOfMs(starts[index] ?? 0)} to {clockOfMs((starts[index] ?? 0) + piece.toMs - piece.fromMs)}
              , {KIND_WORD[piece.kind]}
            </button>
          </li>
        ))}
      </ol>
      <p role="status" className="small">
        {fault ?? shown?.fault?.forPeople ?? (replay ? '' : 'Putting the pieces together')}
      </p>
    </section>
  );
};
