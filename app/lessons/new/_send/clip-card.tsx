'use client';

import { Icon } from '@/app/_ui/icon';
import { Notice } from '@/app/_ui/notice';
import { ClipPreview } from './clip-preview';
import { PickAgain } from './pick-again';
import { lengthWords, sizeWords } from './size-words';
import { GoingLine } from './upload-line';
import type { ClipHere, Going } from './send-types';
import styles from './send.module.css';

export type ClipCardProps = {
  clipId: string;
  /** 1 to 4. */
  number: number;
  here: ClipHere | null;
  going: Going;
  /** The file, while this browser has it: for the preview. */
  file: Blob | null;
  onTrim: () => void;
  onWhole: () => void;
  onPause: () => void;
  onResume: () => void;
  /** Again with the same file, or with one that was picked again. */
  onRetry: (file?: File) => void;
  onRemove: () => void;
};

/** One clip: its picture, how long and how large, where it is on its way, and what can be done with it. */
export const ClipCard = (props: ClipCardProps) => {
  const { number, here, going, file, onTrim, onWhole, onPause, onResume, onRetry, onRemove } = props;
  const isMoving = going.kind === 'sending' || going.kind === 'waiting';
  return (
    <article className={styles.card} aria-label={`Clip ${number}`}>
      <ClipPreview file={file} number={number} />
      <div className={styles.cardText}>
        <h2>Clip {number}</h2>
        {here && (
          <p className="small soft num">
            {lengthWords(here.seconds)}, {sizeWords(here.sizeBytes)}
          </p>
        )}
        <GoingLine going={going} label={`Clip ${number} sent`} />
      </div>
      {going.kind === 'held' && here && (
        <div className={styles.cardWide}>
          <Notice
            kind="info"
            title={
              here.isTooLong
                ? 'This is more than a clip may be.'
                : `${lengthWords(here.seconds)} is long for one swing.`
            }
          >
            <p>
              Cut it to the swing: it goes up faster, and your coach is there at once. The pictures stay as
              they are.
            </p>
            <div className="acts">
              <button type="button" className="btn" onClick={onTrim}>
                <Icon name="trim" />
                Cut it to the swing
              </button>
              {!here.isTooLong && (
                <button type="button" className="btn quiet" onClick={onWhole}>
                  Send it whole
                </button>
              )}
            </div>
          </Notice>
        </div>
      )}
      <div className={`acts ${styles.cardWide}`}>
        {isMoving && (
          <button type="button" className="btn small" onClick={onPause} aria-label={`Pause clip ${number}`}>
            <Icon name="pause" />
            Pause
          </button>
        )}
        {going.kind === 'paused' && (
          <button
            type="button"
            className="btn small"
            onClick={onResume}
            aria-label={`Go on with clip ${number}`}
          >
            <Icon name="play" />
            Go on
          </button>
        )}
        {going.kind === 'failed' && going.canRetry && (
          <PickAgain name={`clip ${number}`} needsFile={going.needsFile} onRetry={onRetry} />
        )}
        <button
          type="button"
          className="btn small quiet"
          onClick={onRemove}
          aria-label={`Remove clip ${number}`}
        >
          <Icon name="bin" />
          Remove
        </button>
      </div>
    </article>
  );
};
