'use client';

import { Icon } from '@/app/_ui/icon';
import { type Chapter, chapterAt } from '@/lib/domain/breakdowns/chapters';
import { clockOfMs } from '@/lib/domain/breakdowns/moment-link';
import { CHECKPOINT_NAME } from '@/lib/domain/checkpoints/checkpoint';
import {
  REPLAY_SPEEDS,
  type Replay,
  type ReplaySnapshot,
  type ReplaySpeed,
} from '@/lib/review/replay/replay';
import css from './breakdown.module.css';

type Props = {
  durationMs: number;
  snapshot: Readonly<ReplaySnapshot> | null;
  chapters: readonly Chapter[];
  isReady: boolean;
  hasCaptions: boolean;
  isShown: boolean;
  onShown: (isShown: boolean) => void;
  open: (atMs?: number) => Replay | null;
  onFullScreen: () => void;
};

/** An arrow key on the seek bar goes this far. */
const ARROW_MS = 5000;

/** Play, the seek bar with its chapters, speed and captions. */
export const BreakdownControls = (props: Props) => {
  const { durationMs, snapshot, chapters, isReady, hasCaptions, isShown, onShown, open, onFullScreen } =
    props;
  const ms = Math.min(durationMs, snapshot?.ms ?? 0);
  const isPlaying = snapshot?.state === 'playing';
  const chapter = chapterAt(chapters, ms);
  const seek = (to: number) => open(Math.max(0, Math.min(durationMs, to)));
  return (
    <>
      <div className={css.seek}>
        <svg viewBox={`0 0 ${Math.max(1, durationMs)} 8`} preserveAspectRatio="none" aria-hidden="true">
          {chapters.slice(1).map(({ fromMs }) => (
            <path key={fromMs} d={`M${fromMs} 0v8`} />
          ))}
        </svg>
        <input
          type="range"
          min={0}
          max={durationMs}
          step={50}
          value={ms}
          disabled={!isReady}
          aria-label="Moment of the breakdown"
          aria-valuetext={`${clockOfMs(ms)} of ${clockOfMs(durationMs)}${chapter ? `, ${chapter.title}` : ''}`}
          onChange={(event) => seek(Number(event.target.value))}
          onKeyDown={(event) => {
            const by = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[event.key];
            if (by === undefined) return;
            event.preventDefault();
            seek(ms + by * ARROW_MS);
          }}
        />
      </div>
      <div className={css.bar}>
        <button
          type="button"
          className="btn bare"
          aria-label={isPlaying ? 'Stop here' : snapshot?.isOver ? 'Play again' : 'Play'}
          disabled={!isReady}
          onClick={() => open()?.toggle()}
        >
          <Icon name={isPlaying ? 'pause' : snapshot?.isOver ? 'again' : 'play'} />
        </button>
        <span className="num">
          {clockOfMs(ms)} <span className="soft">of {clockOfMs(durationMs)}</span>
        </span>
        <span className={css.push} />
        <select
          className={css.speed}
          aria-label="Speed"
          value={snapshot?.speed ?? 1}
          disabled={!isReady}
          onChange={(event) => open()?.setSpeed(Number(event.target.value) as ReplaySpeed)}
        >
          {REPLAY_SPEEDS.map((speed) => (
            <option key={speed} value={speed}>
              {speed}×
            </option>
          ))}
        </select>
        {hasCaptions ? (
          <button
            type="button"
            className={`btn small ${css.toggle}`}
            aria-pressed={isShown}
            onClick={() => onShown(!isShown)}
          >
            Captions
          </button>
        ) : null}
        <button type="button" className="btn bare" aria-label="Full screen" onClick={onFullScreen}>
          <Icon name="full" />
        </button>
      </div>
    </>
  );
};

type ChaptersProps = Pick<Props, 'chapters' | 'isReady' | 'open' | 'snapshot'>;

/** The chapters of a breakdown as buttons; each plays from its beginning. */
export const BreakdownChapters = ({ chapters, isReady, open, snapshot }: ChaptersProps) =>
  chapters.length > 1 ? (
    <ol className={css.chapters} aria-label="Chapters">
      {chapters.map((one) => (
        <li key={one.fromMs}>
          <button
            type="button"
            className={css.chapter}
            aria-current={snapshot && one === chapterAt(chapters, snapshot.ms) ? 'true' : undefined}
            disabled={!isReady}
            onClick={() => open(one.fromMs)?.play()}
          >
            <span className="num small">{clockOfMs(one.fromMs)}</span>
            <span>
              {one.checkpoint && one.title !== CHECKPOINT_NAME[one.checkpoint] ? (
                <span className={css.of}>{CHECKPOINT_NAME[one.checkpoint]}</span>
              ) : null}
              {one.title}
            </span>
          </button>
        </li>
      ))}
    </ol>
  ) : null;
