'use client';

import { Icon } from '@/app/_ui/icon';
import { CHECKPOINT_NAME, type Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import css from './compare.module.css';
import type { ClipChoice, ComparedSide } from './compared';

type Props = {
  side: ComparedSide;
  /** "First" or "Second". */
  name: string;
  choices: readonly ClipChoice[];
  frame: number;
  /** Said when this clip has no picture at this time. */
  beyond: string | null;
  pinned: number | null;
  at: Checkpoint;
  onChoose: (clipId: string) => void;
  onNudge: (count: number) => void;
};

/** Which clip stands here, on which frame, and a way to choose another or to move this one alone. */
export const PaneHead = ({ side, name, choices, frame, beyond, pinned, at, onChoose, onNudge }: Props) => {
  const last = Math.max(0, (side.clip.frameCount ?? 1) - 1);
  const checkpoint = CHECKPOINT_NAME[at].toLowerCase();
  return (
    <div className={css.head}>
      <label className={css.labelled}>
        <span className="small soft">{name} swing</span>
        <select
          className={`${css.pick} ${css.which}`}
          value={side.clip.id}
          onChange={(event) => onChoose(event.target.value)}
        >
          {choices.map((choice) => (
            <option key={choice.clipId} value={choice.clipId}>
              {choice.words}
            </option>
          ))}
        </select>
      </label>
      <div className={css.alone} role="group" aria-label={`Move the ${name.toLowerCase()} swing alone`}>
        <button
          type="button"
          className="btn bare"
          aria-label={`${name} swing alone: one frame back`}
          onClick={() => onNudge(-1)}
        >
          <Icon name="left" />
        </button>
        <span className="num">
          frame {frame} of {last}
        </span>
        <button
          type="button"
          className="btn bare"
          aria-label={`${name} swing alone: one frame on`}
          onClick={() => onNudge(1)}
        >
          <Icon name="right" />
        </button>
      </div>
      {beyond ? <p className="small">This clip {beyond} here.</p> : null}
      {pinned === null ? (
        <p className="small">
          Nobody has pinned {checkpoint} on this clip. Move it alone to the right frame: the two stay locked
          there.
        </p>
      ) : null}
      {side.clip.rateIsSure ? null : (
        <p className="small">
          Nobody has confirmed how fast this clip was taken. It is set beside the other by the time in its
          file, which is wrong if it is slow motion.
        </p>
      )}
    </div>
  );
};
