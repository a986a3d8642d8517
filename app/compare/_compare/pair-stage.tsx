'use client';

import { useEffect, useRef, type ReactNode } from 'react';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { MarkOverlay, marksOn } from '@/app/lessons/_swing/mark-overlay';
import { useSize } from '@/app/lessons/_swing/use-size';
import type { Mark } from '@/lib/domain/marks/mark';
import { mapPoints, mirrorMark } from '@/lib/domain/marks/reshape';
import { carryPoint, cssTransform, type Over } from '@/lib/review/compare/over';
import type { Player } from '@/lib/review/player/player';
import css from './compare.module.css';
import type { ComparedSide } from './compared';

/** The whole picture as large as its box allows, in CSS pixels; the height is the box's own or most of the window's. */
function useFit(clip: ClipOnPage) {
  const box = useRef<HTMLDivElement>(null);
  const frame = useRef<HTMLDivElement>(null);
  const room = useSize(box);
  const aspect = (clip.width ?? 16) / (clip.height ?? 9);
  const most =
    typeof window === 'undefined' ? 0 : window.innerHeight * (window.innerWidth < 760 ? 0.36 : 0.6);
  const width = room ? Math.floor(Math.min(room.width, most * aspect)) : 0;
  const height = Math.round(width / aspect);
  // Set from here: the content policy takes no style attributes in the page that the server sends.
  useEffect(() => {
    if (!frame.current || width === 0) return;
    frame.current.style.width = `${width}px`;
    frame.current.style.height = `${height}px`;
  }, [width, height]);
  return { box, frame, width, height, scale: width / (clip.width ?? 16) };
}

const Picture = ({ player, clip, label }: { player: Player | null; clip: ClipOnPage; label: string }) => {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    if (!player || !canvas.current) return;
    return player.attach(canvas.current);
  }, [player]);
  return (
    <canvas ref={canvas} role="img" aria-label={label} width={clip.width ?? 16} height={clip.height ?? 9} />
  );
};

const nameOf = (side: ComparedSide, frame: number) => `Lesson ${side.number}, ${side.day}, frame ${frame}`;
const marksOf = (side: ComparedSide, frame: number): Mark[] =>
  marksOn(side.sheet?.marks ?? [], side.clip.id, frame);

type PaneProps = {
  side: ComparedSide;
  player: Player | null;
  /** The frame whose picture is there, null before the first. */
  frame: number | null;
  isMirrored: boolean;
  /** Under the picture. */
  children: ReactNode;
};

/** One of the two swings with its marks, in a mirror where that is asked. */
export const Pane = ({ side, player, frame, isMirrored, children }: PaneProps) => {
  const fit = useFit(side.clip);
  const marks = frame === null ? [] : marksOf(side, frame);
  return (
    <figure className={css.pane}>
      <div ref={fit.box}>
        <div ref={fit.frame} className={css.frame} data-shown-frame={frame ?? undefined}>
          {frame === null ? <img className={css.poster} src={side.clip.poster} alt="" /> : null}
          <div className={isMirrored ? `${css.picture} ${css.mirrored}` : css.picture}>
            <Picture player={player} clip={side.clip} label={nameOf(side, frame ?? 0)} />
          </div>
          {fit.width > 0 ? (
            <MarkOverlay
              marks={isMirrored ? marks.map(mirrorMark) : marks}
              width={fit.width}
              height={fit.height}
            />
          ) : null}
        </div>
      </div>
      <figcaption>{children}</figcaption>
    </figure>
  );
};

type OverlayProps = {
  a: { side: ComparedSide; player: Player | null; frame: number | null };
  b: { side: ComparedSide; player: Player | null; frame: number | null };
  over: Over;
  /** Of the second picture, 0 to 1. */
  opacity: number;
  children: ReactNode;
};

/** The second swing laid over the first, with the marks of both. */
export const Overlay = ({ a, b, over, opacity, children }: OverlayProps) => {
  const fit = useFit(a.side.clip);
  const upper = useRef<HTMLDivElement>(null);
  const { scale } = fit;
  useEffect(() => {
    const element = upper.current;
    if (!element || scale === 0) return;
    element.style.width = `${(b.side.clip.width ?? 16) * scale}px`;
    element.style.height = `${(b.side.clip.height ?? 9) * scale}px`;
    element.style.transform = cssTransform(over, scale);
    element.style.opacity = String(opacity);
  }, [over, scale, opacity, b.side.clip.width, b.side.clip.height]);
  const sizeOf = (clip: ClipOnPage) => ({ width: clip.width ?? 16, height: clip.height ?? 9 });
  const marks = [
    ...(a.frame === null ? [] : marksOf(a.side, a.frame)),
    ...(b.frame === null ? [] : marksOf(b.side, b.frame)).map((mark) =>
      mapPoints(mark, (p) => carryPoint(over.map, p, sizeOf(b.side.clip), sizeOf(a.side.clip))),
    ),
  ];
  return (
    <figure className={css.pane}>
      <div ref={fit.box}>
        <div
          ref={fit.frame}
          className={css.frame}
          data-shown-frame={a.frame ?? undefined}
          data-over-frame={b.frame ?? undefined}
        >
          <div className={css.picture}>
            <Picture player={a.player} clip={a.side.clip} label={nameOf(a.side, a.frame ?? 0)} />
          </div>
          <div ref={upper} className={css.upper}>
            <Picture
              player={b.player}
              clip={b.side.clip}
              label={`Over it: ${nameOf(b.side, b.frame ?? 0)}`}
            />
          </div>
          {fit.width > 0 ? <MarkOverlay marks={marks} width={fit.width} height={fit.height} /> : null}
        </div>
      </div>
      <figcaption>{children}</figcaption>
    </figure>
  );
};
