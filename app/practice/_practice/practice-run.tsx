'use client';

import { useEffect, useState } from 'react';
import type { Dose } from '@/lib/domain/drills/dose';
import css from './practice.module.css';

type Props = { dose: Dose; swings: number; onSwings: (swings: number) => void };

const clock = (seconds: number) => `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;

/** A counter for the swings and a clock for the rest between sets. Works without a network. */
export const PracticeRun = ({ dose, swings, onSwings }: Props) => {
  const [restUntil, setRestUntil] = useState<number | null>(null);
  const [left, setLeft] = useState(0);
  useEffect(() => {
    if (restUntil === null) return;
    const look = () => {
      const seconds = Math.max(0, Math.ceil((restUntil - Date.now()) / 1000));
      setLeft(seconds);
      if (seconds === 0) setRestUntil(null);
    };
    const every = setInterval(look, 250);
    look();
    return () => clearInterval(every);
  }, [restUntil]);
  const setsDone = Math.floor(swings / dose.reps);
  const inSet = swings % dose.reps;
  const isDone = setsDone >= dose.sets;
  const swing = () => {
    const next = swings + 1;
    onSwings(next);
    const isSetDone = next % dose.reps === 0 && next / dose.reps < dose.sets;
    if (isSetDone && dose.restSeconds > 0) setRestUntil(Date.now() + dose.restSeconds * 1000);
  };
  return (
    <div className={css.run}>
      {restUntil !== null ? (
        <>
          <p className="over">Rest</p>
          <p className={css.clock} role="timer" aria-label="Rest left">
            {clock(left)}
          </p>
          <p className="acts">
            <button type="button" className="btn" onClick={() => setRestUntil(null)}>
              Go on now
            </button>
          </p>
        </>
      ) : (
        <>
          <p className="over">{isDone ? 'All sets done' : `Set ${setsDone + 1} of ${dose.sets}`}</p>
          <p className={css.clock} role="status">
            {isDone ? swings : inSet}
            <span className="sr"> swings</span>
          </p>
          <button type="button" className={`btn wide ${css.swing}`} onClick={swing} disabled={isDone}>
            Swing done
          </button>
        </>
      )}
      {swings > 0 ? (
        <p className="acts">
          <button type="button" className="btn quiet small" onClick={() => onSwings(swings - 1)}>
            Take one back
          </button>
        </p>
      ) : null}
    </div>
  );
};
