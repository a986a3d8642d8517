'use client';

import { Dialog } from '@/app/_ui/dialog';
import { Notice } from '@/app/_ui/notice';
import { LevelMeter } from './record-level';
import css from './record.module.css';
import type { Recording } from './use-recording';

/** Before the first word: why the microphone is asked for, how loud it is, which one, and the way without one. */
export const RecordCheck = ({ recording }: { recording: Recording }) => {
  const { session, snapshot, view, setView } = recording;
  const { phase, device, devices, sentence, level, isHeard, fault } = snapshot;
  const isOpen = view === 'reason' || phase === 'checking' || phase === 'ready' || phase === 'fault';
  if (!session || !isOpen) return null;
  const close = () => {
    setView('none');
    session.leave();
  };
  const canGoSilent = fault !== 'other-tab' && fault !== 'no-clip';
  return (
    <Dialog
      isOpen
      onClose={close}
      title="Record a breakdown"
      footer={
        <>
          {phase === 'ready' ? (
            <button
              type="button"
              className="btn do"
              onClick={() => {
                setView('none');
                void session.start('voice');
              }}
            >
              Start talking
            </button>
          ) : (
            <button
              type="button"
              className="btn do"
              disabled={phase === 'checking'}
              onClick={() => void session.check()}
            >
              {phase === 'checking' ? 'Waiting for the browser' : fault ? 'Try again' : 'Use the microphone'}
            </button>
          )}
          {canGoSilent ? (
            <button
              type="button"
              className="btn"
              onClick={() => {
                setView('none');
                void session.start('silent');
              }}
            >
              Go on without a microphone
            </button>
          ) : null}
        </>
      }
    >
      <p>
        Your voice and everything you do to the picture are kept together: frames, speed, zoom, chalk, and
        where you point. The player sees it on the exact frames. The microphone is open only until you stop.
      </p>
      {phase === 'fault' && sentence ? <Notice kind="refused">{sentence}</Notice> : null}
      {phase === 'checking' ? (
        <p role="status">The browser asks whether Cagepost may hear you. Answer it up there.</p>
      ) : null}
      {phase === 'ready' ? (
        <div className={css.check}>
          <LevelMeter level={level} isHeard={isHeard} />
          <label className="fld">
            <span>Microphone</span>
            <select
              className="write"
              value={device?.id ?? ''}
              onChange={(event) => void session.check(event.target.value)}
            >
              {devices.map((one) => (
                <option key={one.id} value={one.id}>
                  {one.label}
                </option>
              ))}
            </select>
          </label>
          <p className="small soft">
            Say a sentence as you would to the player. Three seconds after the press it begins.
          </p>
        </div>
      ) : null}
    </Dialog>
  );
};
