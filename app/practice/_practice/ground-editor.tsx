'use client';

import { useRef, type KeyboardEvent, type PointerEvent } from 'react';
import type { Drawing } from '@/lib/domain/drills/drill';
import type { Spot } from '@/lib/domain/drills/dose';
import { GroundDrawing, drawingWords, offDrawing, onDrawing } from './ground-drawing';
import css from './practice.module.css';

export type Handle = 'tee' | 'frontFoot' | 'backFoot';
const HANDLE_WORD = { tee: 'Tee', frontFoot: 'Front foot', backFoot: 'Back foot' } as const;
/** One press of an arrow key, in metres; with Shift five times as far. */
const STEP = 0.02;
const LIMITS = { x: [-1.5, 2], y: [-1.5, 1.5] } as const;

type Props = {
  drawing: Drawing;
  /** What can be moved here. */
  handles: readonly Handle[];
  /** Whether the direction of the ball can be turned. */
  canAim?: boolean;
  onChange: (drawing: Drawing) => void;
};

const within = (value: number, [low, high]: readonly [number, number]) =>
  Math.round(Math.min(high, Math.max(low, value)) * 100) / 100;

/** A drawing from above whose parts are moved by drag, by arrow keys or by numbers in centimetres. */
export const GroundEditor = ({ drawing, handles, canAim = false, onChange }: Props) => {
  const dragged = useRef<Handle | null>(null);
  const put = (handle: Handle, spot: Spot) =>
    onChange({ ...drawing, [handle]: { x: within(spot.x, LIMITS.x), y: within(spot.y, LIMITS.y) } });
  const shown = handles.flatMap((handle) => {
    const spot = drawing[handle];
    return spot ? [{ handle, spot }] : [];
  });
  const move = (event: PointerEvent<SVGCircleElement>) => {
    const matrix = event.currentTarget.ownerSVGElement?.getScreenCTM();
    if (!dragged.current || !matrix) return;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    put(dragged.current, offDrawing(at));
  };
  const press = (event: KeyboardEvent, handle: Handle, spot: Spot) => {
    const step = STEP * (event.shiftKey ? 5 : 1);
    const by = {
      ArrowUp: { x: step, y: 0 },
      ArrowDown: { x: -step, y: 0 },
      ArrowLeft: { x: 0, y: step },
      ArrowRight: { x: 0, y: -step },
    }[event.key];
    if (!by) return;
    event.preventDefault();
    event.stopPropagation(); // the bench steps frames with these keys
    put(handle, { x: spot.x + by.x, y: spot.y + by.y });
  };
  return (
    <div className={css.panel}>
      <GroundDrawing drawing={drawing}>
        {shown.map(({ handle, spot }) => {
          const at = onDrawing(spot);
          return (
            <circle
              key={handle}
              cx={at.x}
              cy={at.y}
              r="24"
              className={css.handle}
              role="button"
              tabIndex={0}
              aria-label={`${HANDLE_WORD[handle]}: move with the arrow keys`}
              onPointerDown={(event) => {
                dragged.current = handle;
                event.currentTarget.setPointerCapture(event.pointerId);
              }}
              onPointerMove={move}
              onPointerUp={() => (dragged.current = null)}
              onPointerCancel={() => (dragged.current = null)}
              onKeyDown={(event) => press(event, handle, spot)}
            />
          );
        })}
      </GroundDrawing>
      <p className="small" role="status">
        {drawingWords(drawing)}
      </p>
      {shown.map(({ handle, spot }) => (
        <fieldset key={handle} className={css.pair}>
          <legend className="small">{HANDLE_WORD[handle]}, centimetres from the point of the plate</legend>
          {(['x', 'y'] as const).map((axis) => (
            <label key={axis} className="small">
              {axis === 'x' ? 'Toward the pitcher' : 'Toward third base'}
              <input
                className="write"
                type="number"
                step={1}
                value={Math.round(spot[axis] * 100)}
                onChange={(event) => put(handle, { ...spot, [axis]: Number(event.target.value) / 100 })}
              />
            </label>
          ))}
        </fieldset>
      ))}
      {canAim ? (
        <label className="small">
          Where the ball goes: degrees from the pitcher, third base is plus
          <input
            className="write"
            type="number"
            min={-60}
            max={60}
            step={5}
            value={drawing.toward}
            onChange={(event) =>
              onChange({ ...drawing, toward: Math.min(60, Math.max(-60, Number(event.target.value) || 0)) })
            }
          />
        </label>
      ) : null}
    </div>
  );
};
