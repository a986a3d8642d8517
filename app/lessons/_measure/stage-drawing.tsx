import type { FramePoint } from '@/lib/domain/marks/mark';
import type { GroundLine } from '@/lib/domain/measures/grid';
import type { GroundAngle } from '@/lib/domain/measures/ground-angle';
import { CHALK_COLOUR } from '@/lib/review/canvas/shape';
import { ChalkLabel, ChalkLine, pathOf, type Project } from './chalk-line';

/** The ground drawn over the picture as the camera sees it: a wrong corner is seen at once. */
export const GridDrawing = ({ lines, project }: { lines: readonly GroundLine[]; project: Project }) => (
  <g data-drawing="grid">
    {lines.map((line, index) => (
      <ChalkLine
        key={index}
        d={pathOf(line.points, project)}
        colour={line.kind === 'grid' ? CHALK_COLOUR.sky : CHALK_COLOUR.white}
        width={line.kind === 'grid' ? 1 : 2}
        opacity={line.kind === 'grid' ? 0.5 : 0.9}
      />
    ))}
  </g>
);

const ARM = 7;

/** A point that was set: an upright cross with a gap, unlike any chalk. The one in hand is clay and larger. */
export const PointCross = ({
  at: [x, y],
  isAsked,
  isSuggested = false,
  label,
}: {
  at: readonly [x: number, y: number];
  isAsked: boolean;
  isSuggested?: boolean;
  label: string | null;
}) => {
  const arm = isAsked ? ARM + 4 : ARM;
  const d = `M${x - arm} ${y}H${x - 2}M${x + 2} ${y}H${x + arm}M${x} ${y - arm}V${y - 2}M${x} ${y + 2}V${y + arm}`;
  return (
    <g data-drawing="point">
      <ChalkLine
        d={d}
        colour={isAsked ? CHALK_COLOUR.clay : CHALK_COLOUR.white}
        width={2}
        dash={isSuggested ? '2 4' : undefined}
      />
      {label ? (
        <text
          x={x + arm + 3}
          y={y - 5}
          fontSize="13"
          fill="#FFFDF6"
          stroke="#0B0F10"
          strokeWidth="3"
          paintOrder="stroke"
        >
          {label}
        </text>
      ) : null}
    </g>
  );
};

/** The stride foot's turn drawn on the ground through the camera, with square and the target beside it. */
export const AngleDrawing = ({
  angle,
  words,
  targetWords,
  project,
  size,
}: {
  angle: GroundAngle;
  words: string;
  targetWords: string | null;
  project: Project;
  size: { width: number; height: number };
}) => {
  const endOf = (points: readonly FramePoint[]) => {
    const last = points.at(-1);
    return last ? project(last) : ([0, 0] as const);
  };
  const beside = ([x, y]: readonly [number, number], down: number) => [x + 8, y + down] as const;
  return (
    <g data-drawing="angle">
      <ChalkLine d={pathOf(angle.square, project)} colour={CHALK_COLOUR.white} width={2.5} dash="8 8" />
      {angle.target ? (
        <ChalkLine d={pathOf(angle.target, project)} colour={CHALK_COLOUR.white} width={2.5} />
      ) : null}
      <ChalkLine d={pathOf(angle.arc, project)} colour={CHALK_COLOUR.clay} width={2.5} />
      <ChalkLine d={pathOf(angle.foot, project)} colour={CHALK_COLOUR.clay} width={3.5} />
      <ChalkLabel at={beside(endOf(angle.square), 2)} text="square" size={size} />
      {angle.target && targetWords ? (
        <ChalkLabel at={beside(endOf(angle.target), 4)} text={targetWords} size={size} />
      ) : null}
      <ChalkLabel at={beside(endOf(angle.foot), -30)} text={words} size={size} />
    </g>
  );
};
