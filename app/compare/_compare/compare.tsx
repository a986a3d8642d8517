'use client';

import { useRouter } from 'next/navigation';
import { useCallback, useEffect, useMemo, useState } from 'react';
import { useBenchKeys, useSingleKeys } from '@/app/lessons/[lessonId]/_review/use-bench-keys';
import { usePlayer } from '@/app/lessons/_swing/players';
import { CHECKPOINT_NAME, CHECKPOINTS, type Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import { fitOver, groundOver } from '@/lib/review/compare/over';
import { isBeyond, type Side } from '@/lib/review/compare/pairing';
import css from './compare.module.css';
import {
  locksFor,
  pinnedAt,
  SIDE_WORD,
  type ClipChoice,
  type Compared,
  type ComparedMeasure,
} from './compared';
import { pairCommands } from './pair-commands';
import { PaneHead } from './pane-head';
import { Overlay, Pane } from './pair-stage';
import { PairTransport } from './pair-transport';
import { UnderCheckpoint } from './under-checkpoint';
import { usePair } from './use-pair';

type Props = Compared & {
  choices: readonly ClipChoice[];
  measures: readonly ComparedMeasure[];
  at: Checkpoint;
  isMirrored: boolean;
};

/** Two swings held together at a checkpoint: stepped, scrubbed and played as one, beside or over each other. */
export const Compare = ({ a, b, choices, measures, ...first }: Props) => {
  const router = useRouter();
  const sides = useMemo(() => ({ a, b }), [a, b]);
  const [at, setAt] = useState(first.at);
  const [isMirrored, setMirrored] = useState(first.isMirrored);
  const [isOver, setOver] = useState(false);
  const [opacity, setOpacity] = useState(0.5);
  const one = usePlayer(a.clip.id);
  const two = usePlayer(b.clip.id);
  const { pair, snapshot } = usePair(one.player, two.player, locksFor(sides, first.at, null));
  const { moment, settled, locks } = snapshot;

  const address = (change: Partial<{ a: string; b: string; at: Checkpoint; mirror: boolean }>) => {
    const query = new URLSearchParams({
      a: change.a ?? a.clip.id,
      b: change.b ?? b.clip.id,
      at: change.at ?? at,
    });
    if (change.mirror ?? isMirrored) query.set('mirror', '1');
    return `/compare?${query.toString()}`;
  };
  const isAtCheckpoint = (['a', 'b'] as const).every((side) => pinnedAt(sides[side], at) === locks[side]);

  const goTo = useCallback(
    (checkpoint: Checkpoint) => {
      setAt(checkpoint);
      if (pair) pair.lock(locksFor(sides, checkpoint, pair.getSnapshot().moment));
    },
    [pair, sides],
  );
  // The address can be kept and sent on, without a turn to the server for each checkpoint.
  useEffect(() => {
    window.history.replaceState(window.history.state, '', address({}));
  });

  const run = useMemo(() => pairCommands(pair, goTo), [pair, goTo]);
  const [canSingleKeys] = useSingleKeys();
  useBenchKeys(run, true, canSingleKeys);

  const size = { width: a.clip.width ?? 16, height: a.clip.height ?? 9 };
  const upper = { width: b.clip.width ?? 16, height: b.clip.height ?? 9 };
  const onGround = useMemo(
    () =>
      a.ground && b.ground
        ? groundOver(
            { first: a.ground, second: b.ground },
            { width: upper.width, height: upper.height },
            isMirrored,
          )
        : null,
    [a.ground, b.ground, upper.width, upper.height, isMirrored],
  );
  const over = useMemo(
    () =>
      onGround ??
      fitOver(
        { width: size.width, height: size.height },
        { width: upper.width, height: upper.height },
        isMirrored,
      ),
    [onGround, size.width, size.height, upper.width, upper.height, isMirrored],
  );

  const trouble =
    one.fault ??
    two.fault ??
    snapshot.fault?.forPeople ??
    (snapshot.network === 'waiting' ? 'The connection is lost. It goes on by itself.' : null);
  const players = { a: one.player, b: two.player };
  const frames = { a: settled?.a ?? null, b: settled?.b ?? null };
  const beyondWords = (side: Side) => {
    const player = players[side];
    if (!player) return null;
    const clip = { ptsUs: player.source.ptsUs, stretch: player.stretch, lockedFrame: locks[side] };
    const where = isBeyond(clip, moment.us);
    return where === null ? null : where === 'before' ? 'has not begun yet' : 'is over';
  };
  const head = (side: Side) => (
    <PaneHead
      side={sides[side]}
      name={SIDE_WORD[side]}
      choices={choices.filter((choice) => choice.clipId !== sides[side === 'a' ? 'b' : 'a'].clip.id)}
      frame={moment[side]}
      beyond={beyondWords(side)}
      pinned={pinnedAt(sides[side], at)}
      at={at}
      onChoose={(clipId) => router.push(address({ [side]: clipId }))}
      onNudge={(count) => pair?.nudge(side, count)}
    />
  );
  return (
    <>
      <section className={`night ${css.night}`} aria-label="The two swings">
        <div className={css.checkpoints} role="group" aria-label="Locked at">
          {CHECKPOINTS.map((checkpoint, index) => (
            <button
              key={checkpoint}
              type="button"
              className="btn small"
              aria-pressed={checkpoint === at}
              aria-keyshortcuts={String(index + 1)}
              onClick={() => goTo(checkpoint)}
            >
              {CHECKPOINT_NAME[checkpoint]}
            </button>
          ))}
          <span className={css.push} />
          <button
            type="button"
            className="btn small"
            aria-pressed={isMirrored}
            onClick={() => setMirrored(!isMirrored)}
          >
            Mirror the second
          </button>
          <button type="button" className="btn small" aria-pressed={isOver} onClick={() => setOver(!isOver)}>
            Lay it over the first
          </button>
        </div>
        {trouble ? (
          <p role="alert" className={css.trouble}>
            {trouble}{' '}
            <button type="button" className="linklike" onClick={() => pair?.retry()}>
              Try again
            </button>
          </p>
        ) : null}
        {isOver ? (
          <Overlay
            a={{ side: a, player: one.player, frame: frames.a }}
            b={{ side: b, player: two.player, frame: frames.b }}
            over={over}
            opacity={opacity}
          >
            <div className={css.heads}>
              {head('a')}
              {head('b')}
            </div>
            <label className={css.opacity}>
              <span>How much of the second is seen</span>
              <input
                type="range"
                className={css.scrub}
                min={0}
                max={100}
                step={5}
                value={Math.round(opacity * 100)}
                aria-valuetext={`${Math.round(opacity * 100)} percent`}
                onChange={(event) => setOpacity(Number(event.target.value) / 100)}
              />
            </label>
            <p className="small soft">
              {OVER_WORDS[over.by === 'ground' ? 'ground' : a.ground && b.ground ? 'apart' : 'fit']}
            </p>
          </Overlay>
        ) : (
          <div className={css.pair}>
            <Pane side={a} player={one.player} frame={frames.a} isMirrored={false}>
              {head('a')}
            </Pane>
            <Pane side={b} player={two.player} frame={frames.b} isMirrored={isMirrored}>
              {head('b')}
            </Pane>
          </div>
        )}
        <PairTransport
          pair={pair}
          snapshot={snapshot}
          lockName={isAtCheckpoint ? CHECKPOINT_NAME[at] : null}
          run={run}
        />
      </section>
      <UnderCheckpoint a={a} b={b} at={at} measures={measures} />
    </>
  );
};

const OVER_WORDS = {
  ground:
    'Lined up by the ground: plate lies on plate. What stands above the ground leans where the cameras stood apart.',
  apart:
    'The cameras stood too far apart to line the ground up, so the whole pictures lie over each other. Sizes and places do not agree.',
  fit: 'The whole pictures lie over each other. Sizes and places agree only if the camera stood in the same spot; with the plate clicked in both they are lined up by the ground.',
} as const;
