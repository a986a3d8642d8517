'use client';

import { useRouter } from 'next/navigation';
import { useState, type ReactNode } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Icon } from '@/app/_ui/icon';
import { setCaptureRateAction } from '@/app/lessons/actions';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { CHECKPOINT_NAME, type Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import { VIEW_WORD } from '@/lib/domain/lessons/words';
import type { Pin } from '@/lib/domain/review/sheet';
import type { PlayerSnapshot } from '@/lib/review/player/player';
import type { Speed } from '@/lib/review/player/playhead';
import type { RunCommand } from './bench-commands';
import css from './bench.module.css';
import { CommandButton } from './command-button';
import { SpeedChoice } from './speed-choice';
import { StepKeys } from './step-keys';

type Props = {
  clip: ClipOnPage | null;
  ready: readonly ClipOnPage[];
  snapshot: Readonly<PlayerSnapshot>;
  checkpoint: Checkpoint;
  pins: readonly Pin[];
  zoom: number;
  /** What can stand beside the swing. */
  choice: ReactNode;
  run: RunCommand;
  onClip: (id: string) => void;
  onSpeed: (speed: Speed) => void;
};

/** The line under the stage: which frame of which clip, and how it plays. */
export const Transport = ({
  clip,
  ready,
  snapshot,
  checkpoint,
  pins,
  zoom,
  choice,
  run,
  onClip,
  onSpeed,
}: Props) => {
  const { wantedFrame, mode, loop, speed } = snapshot;
  const isPinned = pins.some((pin) => pin.checkpoint === checkpoint && pin.frame === wantedFrame);
  const commandOfPin = `pin-${checkpoint === 'foot_strike' ? 'foot-strike' : checkpoint}` as const;
  return (
    <div className={css.line}>
      <b className={css.linename}>{CHECKPOINT_NAME[checkpoint]}</b>
      <span className="num">
        frame {wantedFrame} of {Math.max(0, (clip?.frameCount ?? 1) - 1)}
      </span>
      {ready.length > 1 ? (
        <select
          aria-label="Clip"
          className={css.pick}
          value={clip?.id ?? ''}
          onChange={(event) => onClip(event.target.value)}
        >
          {ready.map((one, index) => (
            <option key={one.id} value={one.id}>
              {one.view ? VIEW_WORD[one.view] : `Clip ${index + 1}`}
            </option>
          ))}
        </select>
      ) : (
        <span className="soft">{clip?.view ? VIEW_WORD[clip.view].toLowerCase() : ''}</span>
      )}
      <span className={`soft ${css.rate}`}>{rateWords(clip)}</span>
      {clip && !clip.rateIsSure ? <RateChoice clip={clip} /> : null}
      {choice}
      <span className={css.push} />
      <StepKeys isPlaying={mode === 'playing'} run={run} />
      <SpeedChoice speed={speed} onSpeed={onSpeed} className={css.speed} pickClass={css.pick} />
      <span className={css.loop}>
        <CommandButton id="loop-from" run={run} className="btn small">
          Loop from
        </CommandButton>
        <CommandButton id="loop-to" run={run} className="btn small">
          Loop to
        </CommandButton>
        {loop ? (
          <CommandButton id="loop-off" run={run} className="btn small">
            {`${loop.from} to ${loop.to}, end it`}
          </CommandButton>
        ) : null}
      </span>
      <CommandButton id={zoom > 1.01 ? 'zoom-fit' : 'zoom-in'} run={run} className="btn small">
        {zoom > 1.01 ? `${zoom.toFixed(1)} times, fit` : 'Closer'}
      </CommandButton>
      <CommandButton id="full-screen" run={run}>
        <Icon name="full" />
      </CommandButton>
      <CommandButton id={commandOfPin} run={run} className="btn small" isPressed={isPinned}>
        {isPinned ? 'Pinned here' : `Pin ${CHECKPOINT_NAME[checkpoint].toLowerCase()} here`}
      </CommandButton>
    </div>
  );
};

/** Times and speeds need the rate the camera took; a file may leave it open. */
const RateChoice = ({ clip }: { clip: ClipOnPage }) => {
  const router = useRouter();
  const [refusal, setRefusal] = useState<string | null>(null);
  const keep = async (captureRate: number) => {
    const answer = await answerOf(setCaptureRateAction({ clipId: clip.id, captureRate }));
    setRefusal(answer.ok ? null : answer.message);
    router.refresh();
  };
  return (
    <>
      <select
        className={css.pick}
        aria-label="Taken at how many frames a second?"
        value=""
        onChange={(event) => void keep(Number(event.target.value))}
      >
        <option value="">Taken at?</option>
        {RATES.map((rate) => (
          <option key={rate} value={rate}>
            {rate} a second
          </option>
        ))}
      </select>
      {refusal ? <span role="alert">{refusal}</span> : null}
    </>
  );
};

const RATES = [30, 60, 120, 240] as const;

const rateWords = (clip: ClipOnPage | null) => {
  if (!clip) return '';
  const rate = clip.captureRate ?? clip.fileRate;
  if (rate === null) return 'rate unknown';
  return `${Math.round(rate)} frames a second${clip.rateIsSure ? '' : ', not confirmed'}`;
};
