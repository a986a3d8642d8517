'use client';

import { useEffect, useRef, type ReactNode } from 'react';
import { Icon } from '@/app/_ui/icon';
import type { Speed } from '@/lib/review/player/playhead';
import type { Mark } from '@/lib/domain/marks/mark';
import type { ClipOnPage } from './clip-on-page';
import { MarkOverlay, marksOn } from './mark-overlay';
import { usePlayer, usePlayerSnapshot } from './players';
import css from './swing.module.css';
import { useSize } from './use-size';

type Props = {
  clip: ClipOnPage;
  /** The frame to stand on; a change goes there. */
  frame: number;
  marks?: readonly Mark[];
  /** How fast it plays, as a part of real speed; a swing slowly when nothing is said. */
  speed?: Speed;
  /** Told when another frame is really shown. */
  onFrame?: (frame: number) => void;
  /** Drawn over the picture with the marks; the size is the picture's in CSS pixels. */
  over?: (frame: number, size: { width: number; height: number }) => ReactNode;
  /** Beside the frame number. */
  children?: ReactNode;
};

const SLOW: Speed = 0.25;

/** A clip to look around in: exact frames with their marks, stepped, scrubbed and played slowly, by hand or by keys. */
export const FrameViewer = ({
  clip,
  frame,
  marks = [],
  speed: asked = SLOW,
  onFrame,
  over,
  children,
}: Props) => {
  const { player, fault } = usePlayer(clip.id);
  const { shownFrame, wantedFrame, mode, speed, fault: frameFault, network } = usePlayerSnapshot(player);
  const box = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const size = useSize(box);

  useEffect(() => {
    if (!player || !canvas.current) return;
    return player.attach(canvas.current);
  }, [player]);
  useEffect(() => player?.goTo(frame), [player, frame]);
  useEffect(() => {
    if (player?.getSnapshot().mode === 'playing') player.setSpeed(asked);
  }, [player, asked]);
  useEffect(() => {
    if (shownFrame !== null && mode === 'paused') onFrame?.(shownFrame);
  }, [shownFrame, mode, onFrame]);

  const last = Math.max(0, (clip.frameCount ?? 1) - 1);
  const isPlaying = mode === 'playing';
  const trouble =
    fault ??
    frameFault?.forPeople ??
    (network === 'waiting' ? 'The connection is lost. It goes on by itself.' : null);
  return (
    <div className={css.viewer}>
      <div
        className={(clip.height ?? 9) > (clip.width ?? 16) ? `${css.stage} ${css.portrait}` : css.stage}
        ref={box}
        data-shown-frame={shownFrame ?? undefined}
      >
        {shownFrame === null ? <img className={css.poster} src={clip.poster} alt="" /> : null}
        <canvas
          ref={canvas}
          width={clip.width ?? 16}
          height={clip.height ?? 9}
          aria-label={`Frame ${wantedFrame}`}
          role="img"
        />
        {size && shownFrame !== null ? (
          <MarkOverlay marks={marksOn(marks, clip.id, shownFrame)} width={size.width} height={size.height} />
        ) : null}
        {size && shownFrame !== null ? over?.(shownFrame, size) : null}
      </div>
      {trouble ? (
        <p role="alert" className={css.trouble}>
          {trouble}{' '}
          <button type="button" className="linklike" onClick={() => player?.retry()}>
            Try again
          </button>
        </p>
      ) : null}
      <div className={css.controls}>
        <button
          type="button"
          className="btn bare"
          aria-label="One frame back"
          onClick={() => player?.step(-1)}
        >
          <Icon name="left" />
        </button>
        <button
          type="button"
          className="btn bare"
          aria-label={isPlaying ? 'Pause' : asked < 1 ? 'Play slowly' : 'Play'}
          onClick={() => {
            if (isPlaying) return player?.pause();
            player?.setSpeed(asked);
            player?.play();
          }}
        >
          <Icon name={isPlaying ? 'pause' : 'play'} />
        </button>
        <button type="button" className="btn bare" aria-label="One frame on" onClick={() => player?.step(1)}>
          <Icon name="right" />
        </button>
        <input
          type="range"
          min={0}
          max={last}
          value={wantedFrame}
          aria-label="Frame"
          aria-valuetext={`frame ${wantedFrame} of ${last}`}
          onChange={(event) => player?.goTo(Number(event.target.value))}
        />
        <span className="num small">
          {wantedFrame} of {last}
          {isPlaying && speed < 1 ? `, speed ${speed}` : ''}
        </span>
      </div>
      {children}
    </div>
  );
};
