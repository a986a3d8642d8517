'use client';

import { useEffect, useRef, useState } from 'react';
import { CHECKPOINT_NAME } from '@/lib/domain/checkpoints/checkpoint';
import type { Pin } from '@/lib/domain/review/sheet';
import type { Player, PlayerSnapshot } from '@/lib/review/player/player';
import css from './bench.module.css';

type Props = {
  player: Player;
  snapshot: Readonly<PlayerSnapshot>;
  pins: readonly Pin[];
  onGo: (frame: number) => void;
};

const AROUND = 5;
const CELL_WIDTH = 160;

/** One cell a frame around the present one, so that the next frame is seen before it is stepped to; pins at its foot. */
export const FrameStrip = ({ player, snapshot, pins, onGo }: Props) => {
  const { wantedFrame, mode } = snapshot;
  const count = player.source.frameCount;
  const cells = Array.from({ length: 2 * AROUND + 1 }, (_, at) => wantedFrame - AROUND + at);
  const canvases = useRef(new Map<number, HTMLCanvasElement>());
  // While it plays the strip rests: its pictures would come too late and slow the stage.
  const isMoving = mode !== 'paused';

  useEffect(() => {
    if (isMoving) return;
    const stop = new AbortController();
    const wanted = Array.from({ length: 2 * AROUND + 1 }, (_, at) => wantedFrame - AROUND + at).filter(
      (f) => f >= 0 && f < count,
    );
    const draw = (frame: number, bitmap: ImageBitmap) => {
      const canvas = canvases.current.get(frame);
      if (!canvas) return;
      canvas.width = bitmap.width;
      canvas.height = bitmap.height;
      canvas.getContext('2d', { alpha: false })?.drawImage(bitmap, 0, 0);
      canvas.dataset.frame = String(frame);
    };
    player.thumbnails(wanted, CELL_WIDTH, draw, stop.signal).catch(() => {
      // The stage tells what is wrong with the clip; a strip without pictures can still be pressed.
    });
    return () => stop.abort();
  }, [player, wantedFrame, isMoving, count]);

  const before = [...pins].reverse().find((pin) => pin.frame < wantedFrame - AROUND);
  const after = pins.find((pin) => pin.frame > wantedFrame + AROUND);
  return (
    <div className={css.strip}>
      <Jump pin={before} words={before ? `${wantedFrame - before.frame} back` : ''} onGo={onGo} />
      <ScrubLine count={count} frame={wantedFrame} player={player} />
      <ol className={css.cells}>
        {cells.map((frame) => {
          const isThere = frame >= 0 && frame < count;
          const pin = pins.find((one) => one.frame === frame);
          return (
            <li key={frame} className={isThere ? undefined : css.empty}>
              {isThere ? (
                <button
                  type="button"
                  className={css.cell}
                  aria-current={frame === wantedFrame ? 'true' : undefined}
                  aria-label={`Frame ${frame}${pin ? `, ${CHECKPOINT_NAME[pin.checkpoint]}` : ''}`}
                  onClick={() => onGo(frame)}
                >
                  <canvas
                    ref={(canvas) => {
                      if (canvas) canvases.current.set(frame, canvas);
                      else canvases.current.delete(frame);
                    }}
                    width={16}
                    height={20}
                  />
                  {pin ? <span className={css.pin}>{CHECKPOINT_NAME[pin.checkpoint]}</span> : null}
                  <span className={`num ${css.number}`}>{frame}</span>
                </button>
              ) : null}
            </li>
          );
        })}
      </ol>
      <Jump pin={after} words={after ? `${after.frame - wantedFrame} on` : ''} onGo={onGo} />
    </div>
  );
};

/** The neighbour checkpoint beyond the strip, with the number of frames to it. */
const Jump = ({
  pin,
  words,
  onGo,
}: {
  pin: Pin | undefined;
  words: string;
  onGo: (frame: number) => void;
}) =>
  pin ? (
    <button type="button" className={css.jump} onClick={() => onGo(pin.frame)}>
      <b>{CHECKPOINT_NAME[pin.checkpoint]}</b>
      {words}
    </button>
  ) : (
    <span className={css.jump} />
  );

/** The whole clip as one line to scrub on. Arrow keys step it, as on any range. */
const ScrubLine = ({ count, frame, player }: { count: number; frame: number; player: Player }) => {
  const [isHeld, setHeld] = useState(false);
  const end = () => {
    setHeld(false);
    player.scrubEnd();
  };
  return (
    <input
      type="range"
      className={css.scrub}
      min={0}
      max={Math.max(0, count - 1)}
      value={frame}
      aria-label="Frame"
      aria-valuetext={`frame ${frame}`}
      onPointerDown={() => {
        setHeld(true);
        player.scrubStart();
      }}
      onPointerUp={end}
      onPointerCancel={end}
      onChange={(event) => {
        const to = Number(event.target.value);
        if (isHeld) player.scrubMove(to);
        else player.goTo(to);
      }}
    />
  );
};
