'use client';

import { useEffect, useRef, useState } from 'react';
import type { Mark } from '@/lib/domain/marks/mark';
import { isAbort } from '@/lib/review/media/frame-source';
import type { ClipOnPage } from './clip-on-page';
import { MarkOverlay, marksOn } from './mark-overlay';
import { usePlayer } from './players';
import css from './swing.module.css';
import { useSize } from './use-size';

type Props = {
  clip: ClipOnPage;
  frame: number;
  alt: string;
  marks?: readonly Mark[];
  /** `whole` shows all of the frame; `hitter` fills the box and cuts the sides away. */
  fit?: 'whole' | 'hitter';
  className?: string;
};

/** The exact frame of a clip as a picture, with its marks. Before the frame is there the clip's poster stands in dimly. */
export const FrameStill = ({ clip, frame, alt, marks = [], fit = 'whole', className }: Props) => {
  const { player } = usePlayer(clip.state === 'ready' ? clip.id : null);
  const box = useRef<HTMLSpanElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const size = useSize(box);
  const [drawn, setDrawn] = useState<number | null>(null);
  const wide = size
    ? Math.min(2, window.devicePixelRatio || 1) *
      (fit === 'whole' ? size.width : size.height * aspectOf(clip))
    : 0;
  const width = Math.min(clip.width ?? 1280, Math.ceil(wide / 64) * 64);

  useEffect(() => {
    if (!player || width === 0) return;
    const stop = new AbortController();
    player.source
      .copyAt(frame, width, stop.signal)
      .then((bitmap) => {
        const target = canvas.current;
        if (target) {
          target.width = bitmap.width;
          target.height = bitmap.height;
          target.getContext('2d', { alpha: false })?.drawImage(bitmap, 0, 0);
          setDrawn(frame);
        }
        bitmap.close();
      })
      .catch((error: unknown) => {
        if (!isAbort(error)) setDrawn(null);
      });
    return () => stop.abort();
  }, [player, frame, width]);

  const shown = fit === 'whole' ? size : null;
  return (
    <span
      ref={box}
      className={[css.still, fit === 'hitter' ? css.hitter : '', className ?? ''].filter(Boolean).join(' ')}
      role="img"
      aria-label={alt}
      data-frame={drawn ?? undefined}
    >
      {drawn === null ? <img className={css.poster} src={clip.poster} alt="" /> : null}
      <canvas
        ref={canvas}
        className={drawn === frame ? undefined : css.waiting}
        width={clip.width ?? 16}
        height={clip.height ?? 9}
      />
      {shown && drawn === frame ? (
        <MarkOverlay
          marks={marksOn(marks, clip.id, frame)}
          width={shown.width}
          height={shown.width / aspectOf(clip)}
        />
      ) : null}
    </span>
  );
};

const aspectOf = (clip: ClipOnPage) => (clip.width ?? 16) / (clip.height ?? 9);
