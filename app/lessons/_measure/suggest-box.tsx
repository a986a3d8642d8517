'use client';

import { useRef, useState, type PointerEvent } from 'react';
import { CHALK_COLOUR } from '@/lib/review/canvas/shape';
import { toFrame, toScreen, type Viewport } from '@/lib/review/canvas/viewport';
import type { PictureBox, SuggestedJoint } from '@/lib/review/pose/body-points';
import { ChalkLine, type Project } from './chalk-line';
import css from './measure.module.css';

/** Shorter than this in either direction (CSS pixels) is a touch, not a box. */
const LEAST_DRAG = 16;

const inside = (value: number) => Math.min(1, Math.max(0, value));

/** Lies over the stage while the coach draws a box round the hitter. The same numbers stand in the panel. */
export const SuggestBox = ({
  viewport,
  box,
  isBusy,
  onBox,
}: {
  viewport: Viewport;
  box: PictureBox;
  isBusy: boolean;
  onBox: (box: PictureBox) => void;
}) => {
  const from = useRef<{ left: number; top: number } | null>(null);
  const [drawn, setDrawn] = useState<PictureBox | null>(null);
  const placeOf = (event: PointerEvent<HTMLDivElement>) => {
    const edges = event.currentTarget.getBoundingClientRect();
    return { left: event.clientX - edges.left, top: event.clientY - edges.top };
  };
  const boxTo = (event: PointerEvent<HTMLDivElement>): PictureBox | null => {
    const [a, b] = [from.current, placeOf(event)];
    if (!a || Math.abs(a.left - b.left) < LEAST_DRAG || Math.abs(a.top - b.top) < LEAST_DRAG) return null;
    const low = toFrame(viewport, { left: Math.min(a.left, b.left), top: Math.min(a.top, b.top) });
    const high = toFrame(viewport, { left: Math.max(a.left, b.left), top: Math.max(a.top, b.top) });
    const [x, y] = [inside(low.x), inside(low.y)];
    const [width, height] = [inside(high.x) - x, inside(high.y) - y];
    return width > 0 && height > 0 ? { x, y, width, height } : null;
  };
  const end = (event: PointerEvent<HTMLDivElement>) => {
    const next = boxTo(event);
    from.current = null;
    setDrawn(null);
    if (next) onBox(next);
  };
  const { width, height } = viewport.stage;
  const shown = drawn ?? box;
  const a = toScreen(viewport, { x: shown.x, y: shown.y });
  const b = toScreen(viewport, { x: shown.x + shown.width, y: shown.y + shown.height });
  return (
    <div
      className={css.surface}
      data-suggest-box
      onPointerDown={(event) => {
        if (isBusy || !event.isPrimary) return;
        event.currentTarget.setPointerCapture(event.pointerId);
        from.current = placeOf(event);
      }}
      onPointerMove={(event) => from.current && setDrawn(boxTo(event))}
      onPointerUp={end}
      onPointerCancel={() => {
        from.current = null;
        setDrawn(null);
      }}
    >
      <svg className={css.over} viewBox={`0 0 ${width} ${height}`} aria-hidden="true" focusable="false">
        <ChalkLine
          d={`M${a.left} ${a.top}H${b.left}V${b.top}H${a.left}Z`}
          colour={CHALK_COLOUR.sky}
          width={2.5}
          dash="8 6"
        />
      </svg>
      <p className={css.hint}>{isBusy ? 'Looking in the box' : 'Draw a box round the hitter'}</p>
    </div>
  );
};

const RING = 9;

/** Points that the model proposes: hollow rings with a broken edge, unlike the crosses of points that were set. */
export const SuggestedPoints = ({
  joints,
  project,
}: {
  joints: readonly SuggestedJoint[];
  project: Project;
}) =>
  joints.map(({ name, point }) => {
    const [x, y] = project(point);
    return (
      <g key={name} data-drawing="suggested">
        <ChalkLine
          d={`M${x - RING} ${y}a${RING} ${RING} 0 1 0 ${2 * RING} 0a${RING} ${RING} 0 1 0 ${-2 * RING} 0`}
          colour={CHALK_COLOUR.sky}
          width={2}
          dash="4 3"
        />
      </g>
    );
  });
