'use client';

import { CommandButton } from '@/app/lessons/[lessonId]/_review/command-button';
import { Icon } from '@/app/_ui/icon';
import type { CommandId } from '@/lib/review/commands';
import type { PairPlayer, PairSnapshot } from '@/lib/review/compare/pair-player';
import { SPEEDS, type Speed } from '@/lib/review/player/playhead';
import css from './compare.module.css';

type Props = {
  pair: PairPlayer | null;
  snapshot: Readonly<PairSnapshot>;
  /** Of the checkpoint at which the clips are locked, or null when they were locked by hand. */
  lockName: string | null;
  run: (id: CommandId) => boolean;
};

const SPEED_WORD = { 0.125: '1/8', 0.25: '1/4', 0.5: '1/2', 1: 'as it was' } as const satisfies Record<
  Speed,
  string
>;

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
      <CommandButton id="step-back" run={run} className="btn bare">
        <Icon name="left" />
      </CommandButton>
      <CommandButton id="play-pause" run={run} className="btn bare" isPressed={mode === 'playing'}>
        <Icon name={mode === 'playing' ? 'pause' : 'play'} />
      </CommandButton>
      <CommandButton id="step-forward" run={run} className="btn bare">
        <Icon name="right" />
      </CommandButton>
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
      <label className={css.labelled}>
        <span className="small soft">Speed</span>
        <select
          className={css.pick}
          value={speed}
          onChange={(event) => pair?.setSpeed(Number(event.target.value) as Speed)}
        >
          {SPEEDS.map((one) => (
            <option key={one} value={one}>
              {SPEED_WORD[one]}
            </option>
          ))}
        </select>
      </label>
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
