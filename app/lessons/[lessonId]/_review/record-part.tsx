'use client';

import { useEffect } from 'react';
import type { RunCommand } from './bench-commands';
import type { BenchProps } from './bench-state';
import { RecordBar } from './record-bar';
import { RecordCheck } from './record-check';
import { RecordLeft } from './record-left';
import { RecordList } from './record-list';
import { RecordListen } from './record-listen';
import css from './record.module.css';
import type { Recording } from './use-recording';

type Props = Pick<BenchProps, 'lesson' | 'clips' | 'others' | 'now' | 'timeZone'> & {
  recording: Recording;
  run: RunCommand;
};

/** What of recording lies over the stage: the bar, what was left behind, listening. */
export const RecordPart = ({ clips, others, now, timeZone, recording, run }: Props) => {
  const { session, snapshot, view } = recording;
  const { breakdowns, refresh } = recording;
  const { phase } = snapshot;
  useEffect(() => {
    if (phase === 'kept') refresh();
  }, [phase, refresh]);
  useEffect(() => {
    if (breakdowns && session) void session.tidy(breakdowns).then(recording.lookForLeft);
    // Only when the list or the session is another one.
  }, [breakdowns, session, recording.lookForLeft]);
  const last = breakdowns?.filter((one) => one.state !== 'removed').at(-1);
  return (
    <>
      <RecordLeft recording={recording} now={now} timeZone={timeZone} />
      {view === 'listen' && phase === 'stopped' ? (
        <RecordListen recording={recording} clips={[...clips, ...others.map((other) => other.clip)]} />
      ) : null}
      <RecordBar recording={recording} run={run} />
      {phase === 'kept' ? (
        <div className={css.bar} role="status">
          <p>
            {last?.state === 'ready'
              ? 'The breakdown is ready. It goes to the player with the lesson.'
              : 'All of it is on the server and is being put together. You can go on working.'}
          </p>
          <span className={css.push} />
          <button type="button" className="btn small" onClick={() => run('breakdowns')}>
            Breakdowns
          </button>
          <button type="button" className="btn small" onClick={() => session?.leave()}>
            Close
          </button>
        </div>
      ) : null}
    </>
  );
};

/** The dialogs of recording: the check before it, and the list of what there is. */
export const RecordDialogs = ({ lesson, recording, run }: Pick<Props, 'lesson' | 'recording' | 'run'>) => {
  const { view, setView, breakdowns, refresh } = recording;
  return (
    <>
      <RecordCheck recording={recording} />
      <RecordList
        lessonId={lesson.id}
        breakdowns={breakdowns}
        refresh={refresh}
        isOpen={view === 'list'}
        session={recording.snapshot.phase === 'idle' ? recording.session : null}
        onClose={() => setView('none')}
        onRecord={() => {
          setView('none');
          run('record');
        }}
      />
    </>
  );
};
