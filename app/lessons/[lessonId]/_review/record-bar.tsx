'use client';

import { useState } from 'react';
import { clockOfMs } from '@/lib/domain/breakdowns/moment-link';
import { sentenceOfTrouble } from '@/lib/review/record/part-sender';
import type { RunCommand } from './bench-commands';
import { CommandButton } from './command-button';
import { LevelMeter } from './record-level';
import css from './record.module.css';
import type { Recording } from './use-recording';

type Props = { recording: Recording; run: RunCommand };

/** The slim bar over the stage while a breakdown is being made; the bench under it stays in use. */
export const RecordBar = ({ recording, run }: Props) => {
  const { snapshot } = recording;
  const { phase, ms, startsIn, kind, level, isHeard, warning, sentence, trouble } = snapshot;
  if (phase === 'countdown')
    return (
      <div className={css.bar} role="status">
        <b className={css.clock}>Starts in {startsIn}</b>
        <button type="button" className="btn small" onClick={() => run('record-stop')}>
          Not yet
        </button>
      </div>
    );
  if (phase === 'stopped' || phase === 'keeping') return <StoppedBar recording={recording} run={run} />;
  if (phase !== 'recording' && phase !== 'paused') return null;
  const isOn = phase === 'recording';
  return (
    <div className={css.bar} role="group" aria-label="Recording">
      <b className={css.clock}>
        <span className={isOn ? css.dot : css.rest} aria-hidden="true" />
        {isOn ? 'Recording' : 'Paused'} <span className="num">{clockOfMs(ms)}</span>
      </b>
      {kind === 'voice' && isOn ? <LevelMeter level={level} isHeard={isHeard} /> : null}
      {kind === 'silent' ? <CueField recording={recording} /> : null}
      <span className={css.push} />
      <CommandButton id="record" run={run} className="btn small">
        {isOn ? 'Pause' : 'Go on'}
      </CommandButton>
      <button type="button" className="btn small" onClick={() => run('record-again')}>
        Again, 10 s back
      </button>
      <CommandButton id="record-stop" run={run} className="btn small">
        Stop
      </CommandButton>
      <p className={css.told} role="status">
        {[sentence, warning, trouble && sentenceOfTrouble(trouble)].filter(Boolean).join(' ')}
      </p>
    </div>
  );
};

/** A written cue for those who do not speak: it stands under the picture from when it is entered. */
const CueField = ({ recording }: { recording: Recording }) => {
  const { session, snapshot } = recording;
  const [text, setText] = useState(snapshot.caption);
  const keep = () => session?.setCaption(text.trim());
  return (
    <label className={css.cue}>
      <span className="small">Cue under the picture</span>
      <input
        className={css.field}
        maxLength={200}
        value={text}
        onChange={(event) => setText(event.target.value)}
        onBlur={keep}
        onKeyDown={(event) => {
          if (event.key === 'Enter') keep();
        }}
      />
    </label>
  );
};

const StoppedBar = ({ recording, run }: Props) => {
  const { session, snapshot, view, setView, lookForLeft } = recording;
  const { phase, ms, sentence, warning, trouble, partsMade, partsSent } = snapshot;
  const [isAsked, setAsked] = useState(false);
  const isKeeping = phase === 'keeping';
  const sent = partsMade > 0 ? `${partsSent} of ${partsMade} parts are on the server.` : '';
  return (
    <div className={css.bar} role="group" aria-label="Breakdown, not kept yet">
      <b className={css.clock}>
        <span>
          Breakdown of <span className="num">{clockOfMs(ms)}</span>
          {isKeeping ? ', being kept' : ', not kept yet'}
        </span>
      </b>
      <span className={css.push} />
      {isAsked ? (
        <>
          <span className="small">Throw all of it away?</span>
          <button
            type="button"
            className="btn small"
            onClick={() => {
              setAsked(false);
              setView('none');
              void session?.discard().then(lookForLeft);
            }}
          >
            Throw it away
          </button>
          <button type="button" className="btn small" onClick={() => setAsked(false)}>
            No, leave it
          </button>
        </>
      ) : (
        <>
          <button
            type="button"
            className="btn small"
            disabled={isKeeping || ms === 0}
            aria-pressed={view === 'listen'}
            onClick={() => setView(view === 'listen' ? 'none' : 'listen')}
          >
            {view === 'listen' ? 'Back to the bench' : 'Listen and cut'}
          </button>
          <button type="button" className="btn small" disabled={isKeeping} onClick={() => run('record')}>
            Speak on
          </button>
          <button type="button" className="btn small" disabled={isKeeping} onClick={() => setAsked(true)}>
            Throw away
          </button>
          <button
            type="button"
            className="btn small"
            disabled={isKeeping || ms === 0}
            onClick={() => {
              setView('none');
              void session?.keep();
            }}
          >
            {isKeeping ? 'Keeping it' : 'Keep it'}
          </button>
        </>
      )}
      <p className={css.told} role="status">
        {[sentence, warning, trouble && sentenceOfTrouble(trouble), sent].filter(Boolean).join(' ')}
      </p>
    </div>
  );
};
