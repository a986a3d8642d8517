'use client';

import { useRef, useState } from 'react';
import { Dialog } from '@/app/_ui/dialog';
import { Icon } from '@/app/_ui/icon';
import { Notice } from '@/app/_ui/notice';
import { useBlobAddress } from './clip-preview';
import { lengthWords } from './size-words';
import { TrimHandles } from './trim-handles';
import { moveHandle, proposedRange, type TrimRange } from './trim-range';
import styles from './trim.module.css';

type Props = {
  file: Blob;
  /** Length of the clip in seconds. */
  seconds: number;
  /** Cuts the file; resolves when it is done, or with a sentence for people when it could not be. */
  onCut: (startSeconds: number, endSeconds: number) => Promise<string | null>;
  /** Null for a clip that is too long to go as it is. */
  onWhole: (() => void) | null;
  onClose: () => void;
};

/** Cuts a clip to the swing: two handles with a preview, by touch, by arrow keys, or by number. */
export const TrimDialog = ({ file, seconds, onCut, onWhole, onClose }: Props) => {
  const length = Math.floor(seconds * 10);
  const video = useRef<HTMLVideoElement>(null);
  const address = useBlobAddress(file);
  const [range, setRange] = useState<TrimRange>(() => proposedRange(length));
  const [isCutting, setIsCutting] = useState(false);
  const [isDark, setIsDark] = useState(false);
  const [refusal, setRefusal] = useState<string | null>(null);

  const show = (tenths: number) => {
    if (!video.current) return;
    video.current.pause();
    video.current.currentTime = tenths / 10;
  };
  const move = (handle: 'start' | 'end', to: number) => {
    const next = moveHandle(range, handle, to, length);
    setRange(next);
    show(next[handle]);
  };
  const play = () => {
    if (!video.current) return;
    video.current.currentTime = range.start / 10;
    void video.current.play();
  };
  const cut = async () => {
    setIsCutting(true);
    setRefusal(await onCut(range.start / 10, range.end / 10));
    setIsCutting(false);
  };

  return (
    <Dialog
      isOpen
      onClose={onClose}
      title="Cut it to the swing"
      footer={
        <>
          {onWhole && (
            <button type="button" className="btn quiet" onClick={onWhole} disabled={isCutting}>
              Send it whole
            </button>
          )}
          <button type="button" className="btn do" onClick={() => void cut()} disabled={isCutting}>
            {isCutting ? 'Cutting …' : `Keep these ${lengthWords((range.end - range.start) / 10)}`}
          </button>
        </>
      }
    >
      <div className={styles.trim}>
        {address && !isDark ? (
          <video
            ref={video}
            className={styles.video}
            src={address}
            muted
            playsInline
            preload="auto"
            onLoadedMetadata={() => show(range.start)}
            onError={() => setIsDark(true)}
            onTimeUpdate={(event) => {
              if (!event.currentTarget.paused && event.currentTarget.currentTime >= range.end / 10)
                event.currentTarget.pause();
            }}
          />
        ) : (
          <p className={`still blank ${styles.video}`}>
            <span className="small">
              This browser cannot show the clip. Cut it by time; it is seen once it is sent.
            </span>
          </p>
        )}
        <TrimHandles range={range} length={length} onMove={move} />
        <p className="acts">
          <button type="button" className="btn small" onClick={play} disabled={isDark}>
            <Icon name="play" />
            Play the part
          </button>
          <span className="small soft num">of {lengthWords(seconds)}</span>
        </p>
        <p className="small soft">
          Start a little before the first move and end after the finish. The cut can begin up to a second
          earlier, where the file allows it; no picture is changed.
        </p>
        {refusal && (
          <Notice kind="refused" title="It could not be cut.">
            <p>{refusal}</p>
          </Notice>
        )}
      </div>
    </Dialog>
  );
};
