'use client';

import { useEffect, useState } from 'react';
import { Icon } from '@/app/_ui/icon';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { FrameViewer } from '@/app/lessons/_swing/frame-viewer';
import { PlayersOf, usePlayer } from '@/app/lessons/_swing/players';
import type { DrillClip as Clip } from '@/lib/domain/drills/drill-clip';
import css from './practice.module.css';
import { useClipAddresses } from './use-clip-addresses';

/** How long it really took, in whole seconds; null when the file does not tell. */
const secondsOf = ({ frameCount, fileRate, captureRate, rateIsSure }: Clip): number | null => {
  const rate = (rateIsSure ? captureRate : null) ?? fileRate;
  return frameCount && rate ? Math.max(1, Math.round(frameCount / rate)) : null;
};

const lengthOf = (clip: Clip): string => {
  const seconds = secondsOf(clip);
  return seconds === null ? '' : `, ${seconds} ${seconds === 1 ? 'second' : 'seconds'}`;
};

/** The clip of a drill: its picture, and on a press the clip itself, at full speed or slowly, frame by frame. */
export const DrillClip = ({ clip, title }: { clip: Clip; title: string }) => {
  const addresses = useClipAddresses(clip.id);
  const [isOpen, setOpen] = useState(false);
  if (addresses === 'asking') return <p className="small soft">The clip is being fetched.</p>;
  if (addresses === 'gone') return <p className="small soft">The clip of this drill was taken away.</p>;
  if (addresses === 'away') {
    return <p className="small soft">This drill has a clip. It needs the network, the rest does not.</p>;
  }
  const { shows: _shows, position: _position, sizeBytes: _size, ...facts } = clip;
  const upright = (clip.height ?? 9) > (clip.width ?? 16) ? css.upright : '';
  const onPage: ClipOnPage = { ...facts, ...addresses };
  if (!isOpen) {
    return (
      <button type="button" className={`${css.poster} ${upright}`} onClick={() => setOpen(true)}>
        <img src={addresses.poster} alt="" width={clip.width ?? 16} height={clip.height ?? 9} />
        <span className={css.watch}>
          <Icon name="play" />
          <span>
            Watch it<span className="sr"> done: {title}</span>
            {lengthOf(clip)}
          </span>
        </span>
      </button>
    );
  }
  return (
    <section className={`${css.clip} ${upright}`} aria-label={`Clip of ${title}`}>
      <PlayersOf clips={[onPage]}>
        <Watched clip={onPage} />
      </PlayersOf>
    </section>
  );
};

const Watched = ({ clip }: { clip: ClipOnPage }) => {
  const { player } = usePlayer(clip.id);
  const [isSlow, setSlow] = useState(false);
  // After the viewer has gone to its first frame: whoever pressed for it wants to see it move.
  useEffect(() => {
    player?.setSpeed(1);
    player?.play();
  }, [player]);
  return (
    <FrameViewer clip={clip} frame={0} speed={isSlow ? 0.25 : 1}>
      <p className={css.pace}>
        <button type="button" className="btn small" aria-pressed={isSlow} onClick={() => setSlow(!isSlow)}>
          Slowly
        </button>
      </p>
    </FrameViewer>
  );
};
