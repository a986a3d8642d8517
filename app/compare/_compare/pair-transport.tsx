'use client';

import { CommandButton } from '@/app/lessons/[lessonId]/_review/command-button';
import { SpeedChoice } from '@/app/lessons/[lessonId]/_review/speed-choice';
import { StepKeys } from '@/app/lessons/[lessonId]/_review/step-keys';
import type { CommandId } from '@/lib/review/commands';
import type { PairPlayer, PairSnapshot } from '@/lib/review/compare/pair-player';
import css from './compare.module.css';

type Props = {
  pair: PairPlayer | null;
  snapshot: Readonly<PairSnapshot>;
  /** Of the checkpoint at which the clips are locked, or null when they were locked by hand. */
  lockName: string | null;
  run: (id: CommandId) => boolean;
};

/** How long before or after the locked frames, in words: "120 ms after foot strike". */
export const timeWords = (us: number, lockName: string | null): string => {
  const from = lockName ? lockName.toLowerCase() : 'the locked frames';
  const ms = Math.round(us / 1000);
  if (ms === 0) return lockName ? `at ${from}` : 'on the locked frames';
  return `${Math.abs(ms)} ms ${ms < 0 ? 'before' : 'after'} ${from}`;
};

/** Steps, scrubs, plays and loops both clips. */
export const PairTransport = ({ pair, snapshot, lockName, run }: Props) => {
  const { mode, index, moments, moment, speed, loop } = snapshot;
  const words = timeWords(moment.us, lockName);
  const at = (step: number) => timeWords(moments[step]?.us ?? 0, lockName);
  return (
    <div className={css.transport} role="group" aria-label="Both swings">
      <StepKeys isPlaying={mode === 'playing'} run={run} className="btn bare" />
      <input
        type="range"
        className={css.scrub}
        aria-label="Time from the locked frames"
        aria-valuetext={words}
        min={0}
        max={moments.length - 1}
        value={index}
        onPointerDown={() => pair?.scrubStart()}
        onPointerUp={() => pair?.scrubEnd()}
        onChange={(event) => {
          const step = Number(event.target.value);
          if (pair?.getSnapshot().mode === 'scrubbing') pair.scrubMove(step);
          else pair?.goTo(step);
        }}
      />
      <span className={`num ${css.time}`}>{words}</span>
      <SpeedChoice
        speed={speed}
        onSpeed={(next) => pair?.setSpeed(next)}
        className={css.labelled}
        pickClass={css.pick}
      />
      <span className={css.loop}>
        <CommandButton id="loop-from" run={run} className="btn small">
          Loop from
        </CommandButton>
        <CommandButton id="loop-to" run={run} className="btn small">
          Loop to
        </CommandButton>
        {loop ? (
          <CommandButton id="loop-off" run={run} className="btn small">
            End the loop
          </CommandButton>
        ) : null}
      </span>
      {loop ? (
        <span className="small soft">
          Loop from {at(loop.from)} to {at(loop.to)}
        </span>
      ) : null}
    </div>
  );
};
