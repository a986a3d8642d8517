'use client';

import { useEffect, useRef, useState, useSyncExternalStore, type ReactNode } from 'react';
import type { FramePoint } from '@/lib/domain/marks/mark';
import { toFrame, toScreen, type Viewport } from '@/lib/review/canvas/viewport';
import type { Chalkboard } from '@/lib/review/input/chalkboard-state';
import { createLoupe, type Loupe, type LoupeSnapshot, type Placed } from '@/lib/review/loupe/loupe';
import type { Player } from '@/lib/review/player/player';
import { PointCross } from './stage-drawing';
import type { Project } from './chalk-line';
import css from './measure.module.css';

type Props = {
  viewport: Viewport;
  board: Chalkboard;
  player: Player;
  /** Points that are there, each with the short name that stands beside it. */
  placed: readonly (Placed & { label: string })[];
  /** The point that is asked for. */
  asked: { name: string; words: string } | null;
  /** Where arrow keys begin when the point is not there yet. */
  start: FramePoint | null;
  onSet: (point: FramePoint, name: string | null) => void;
  onMove: (point: FramePoint | null, name: string | null) => void;
  /** What is drawn under the points. */
  children: (project: Project) => ReactNode;
};

const AT_REST: LoupeSnapshot = {
  aim: null,
  isHeld: false,
  side: 'left',
  announcement: { text: '', turn: 0 },
};
const nothing = () => () => {};
const atRest = () => AT_REST;

/** Lies over the stage while points are placed: takes the pointers and arrow keys, shows the loupe and what was placed. */
export const PlacingLayer = (props: Props) => {
  const { viewport, board, player, placed, asked, start } = props;
  const surface = useRef<HTMLDivElement>(null);
  const lens = useRef<HTMLCanvasElement>(null);
  const latest = useRef(props);
  const [loupe, setLoupe] = useState<Loupe | null>(null);
  useEffect(() => {
    latest.current = props;
  });
  useEffect(() => {
    if (!surface.current || !lens.current) return;
    const made = createLoupe({
      surface: surface.current,
      lens: lens.current,
      picture: { width: player.source.width, height: player.source.height },
      getViewport: () => latest.current.viewport,
      onSet: (point, name) => latest.current.onSet(point, name),
      onMove: (point, name) => latest.current.onMove(point, name),
      panBy: board.panBy,
      zoomAbout: board.zoomAbout,
    });
    const stop = player.onPicture((picture) => made.showPicture(picture));
    setLoupe(made);
    return () => {
      stop();
      made.dispose();
      setLoupe(null);
    };
  }, [board, player]);
  const { aim, side, announcement } = useSyncExternalStore(
    loupe?.subscribe ?? nothing,
    loupe?.getSnapshot ?? atRest,
    atRest,
  );
  useEffect(() => {
    const { width, height } = viewport.stage;
    const middle = toFrame(viewport, { left: width / 2, top: height / 2 });
    const own = placed.find((one) => one.name === asked?.name) ?? null;
    loupe?.ask(placed, own, start ?? middle);
  }, [loupe, placed, asked, start, viewport]);

  const project: Project = (point) => {
    const { left, top } = toScreen(viewport, point);
    return [left, top];
  };
  const { width, height } = viewport.stage;
  return (
    <div
      ref={surface}
      className={css.surface}
      tabIndex={0}
      role="application"
      aria-label={
        asked
          ? `Set ${asked.words}. Arrow keys move the cross by a quarter of a pixel, with Shift by five; Enter sets it.`
          : 'Every point is set. Choose one in the list to move it.'
      }
      data-placing={asked?.name ?? ''}
    >
      <svg className={css.over} viewBox={`0 0 ${width} ${height}`} aria-hidden="true" focusable="false">
        {props.children(project)}
        {placed.map((one) => (
          <PointCross
            key={one.name}
            at={project(one.point)}
            isAsked={one.name === asked?.name}
            label={one.label}
          />
        ))}
        {aim ? <PointCross at={project(aim)} isAsked label={null} /> : null}
      </svg>
      <canvas
        ref={lens}
        className={`${css.lens} ${side === 'left' ? css.lensleft : css.lensright}`}
        hidden={aim === null}
        aria-hidden="true"
        width={192}
        height={192}
      />
      {asked ? <p className={`${css.hint} ${side === 'left' ? css.hintright : ''}`}>{asked.words}</p> : null}
      <span className="sr" aria-live="polite" key={announcement.turn}>
        {announcement.text}
      </span>
    </div>
  );
};
