import type { FramePoint } from '@/lib/domain/marks/mark';
import {
  EDGE,
  EDGE_COLOUR,
  EDGE_OPACITY,
  guessTextWidth,
  LABEL_OPACITY,
  LABEL_SIZE,
} from '@/lib/review/canvas/shape';

/** Takes a point of the frame to CSS pixels of the drawing. */
export type Project = (point: FramePoint) => readonly [x: number, y: number];

const n = (value: number) => Math.round(value * 100) / 100;

/** The path of a run of points. */
export const pathOf = (points: readonly FramePoint[], project: Project): string =>
  points.map((point, index) => `${index === 0 ? 'M' : 'L'}${project(point).map(n).join(' ')}`).join('');

type LineProps = { d: string; colour: string; width: number; dash?: string; opacity?: number };

/** A stroke laid twice, the dark edge first, so that it reads on grass, dirt and shirt. */
export const ChalkLine = ({ d, colour, width, dash, opacity = 1 }: LineProps) => (
  <g fill="none" strokeLinecap="round" strokeLinejoin="round" strokeDasharray={dash} opacity={opacity}>
    <path d={d} stroke={EDGE_COLOUR} strokeOpacity={EDGE_OPACITY} strokeWidth={width + EDGE - 1} />
    <path d={d} stroke={colour} strokeWidth={width} />
  </g>
);

/** Words beside a point, in screen pixels whatever the zoom, held inside a drawing of this size. */
export const ChalkLabel = ({
  at,
  text,
  size,
}: {
  at: readonly [x: number, y: number];
  text: string;
  size: { width: number; height: number };
}) => {
  const width = guessTextWidth(text) + 14;
  const height = LABEL_SIZE + 10;
  const left = Math.min(Math.max(0, at[0]), Math.max(0, size.width - width));
  const top = Math.min(Math.max(0, at[1]), Math.max(0, size.height - height));
  return (
    <g>
      <rect
        x={left}
        y={top}
        width={width}
        height={height}
        rx="2"
        fill={EDGE_COLOUR}
        fillOpacity={LABEL_OPACITY}
      />
      <text x={left + 7} y={top + height - 8} fontSize={LABEL_SIZE} fill="#FFFDF6">
        {text}
      </text>
    </g>
  );
};
