import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import type { Difference } from '@/lib/domain/measures/change';
import { UNIT_OF } from '@/lib/domain/measures/target';
import type { Series, SeriesPoint } from '@/lib/domain/progress/series';
import { COLUMN } from './columns';
import css from './progress.module.css';

const HEIGHT = 224;
const TOP = 26;
const BOTTOM = 46;
const UNIT = { deg: '°', cm: ' cm', ms: ' ms' } as const;
const SHORT: Record<Difference, string> = { view: 'other side', rate: 'other rate', task: 'other way' };

type Props = {
  series: Series;
  /** Of the reference lesson: "lesson 2". */
  referenceName: string | null;
};

/** A measure across lessons, drawn on the server under the columns of the table; the table beside it says the same. */
export const SeriesChart = ({ series, referenceName }: Props) => {
  const { points, segments, band, targets, measure } = series;
  const unit = UNIT[UNIT_OF[measure]];
  const width = Math.max(1, points.length) * COLUMN;
  const x = (place: number) => (place + 0.5) * COLUMN;
  const known = [
    ...points.flatMap(({ low, high }) => (low === null || high === null ? [] : [low, high])),
    ...(band ? [band.low, band.high] : []),
    ...targets.flatMap(({ low, high }) => [...(low === null ? [] : [low]), ...(high === null ? [] : [high])]),
  ];
  const y = scaleLinear()
    .domain([Math.min(...known), Math.max(...known)])
    .nice(4)
    .range([HEIGHT - BOTTOM, TOP]);
  const path = line<SeriesPoint>()
    .x((point) => x(point.index))
    .y((point) => y(point.value ?? 0));
  const written = (value: number) => `${Math.round(value)}${unit}`.replace('-', '−');
  const right = (to: number | null) => (to === null ? width : Math.min(width, x(to)));
  return (
    <svg
      className={css.chart}
      width={width}
      height={HEIGHT}
      viewBox={`0 0 ${width} ${HEIGHT}`}
      aria-hidden="true"
      focusable="false"
    >
      {band ? (
        <g>
          <rect
            className={css.band}
            x={x(band.from)}
            y={y(band.high)}
            width={width - x(band.from)}
            height={Math.max(1, y(band.low) - y(band.high))}
          />
          <path
            className={css.bandedge}
            d={`M${x(band.from)} ${y(band.high)}H${width}M${x(band.from)} ${y(band.low)}H${width}`}
          />
          <text className={css.note} x={width - 6} y={y(band.high) + 15} textAnchor="end">
            noise around {referenceName}
          </text>
        </g>
      ) : null}
      {y.ticks(4).map((tick) => (
        <g key={tick}>
          <path className={css.gridline} d={`M0 ${y(tick)}H${width}`} />
          <text className={css.axis} x={4} y={y(tick) - 4}>
            {written(tick)}
          </text>
        </g>
      ))}
      {targets.map(({ from, to, low, high }) =>
        [low, high].map((limit, which) =>
          limit === null ? null : (
            <path
              key={`${from} ${which}`}
              className={css.target}
              d={`M${Math.max(0, x(from))} ${y(limit)}H${right(to)}`}
            />
          ),
        ),
      )}
      {segments.map((run) => (
        <path
          key={run[0]}
          className={css.line}
          d={path(run.flatMap((index) => points[index] ?? [])) ?? undefined}
        />
      ))}
      {points.map((point) => (
        <Mark key={point.lessonId} point={point} x={x(point.index)} y={y} written={written} />
      ))}
    </svg>
  );
};

type MarkProps = {
  point: SeriesPoint;
  x: number;
  y: (value: number) => number;
  written: (value: number) => string;
};

const Mark = ({ point, x, y, written }: MarkProps) => {
  const foot = HEIGHT - BOTTOM + 16;
  const { value, low, high, unlikeBefore, isEstimate, occasion } = point;
  if (value === null || low === null || high === null)
    return occasion ? (
      <g>
        <path className={css.missing} d={`M${x - 9} ${foot + 8}h18`} />
        <text className={css.note} x={x} y={foot + 25} textAnchor="middle">
          not measured
        </text>
      </g>
    ) : null;
  const [top, bottom] = [y(high), y(low)];
  return (
    <g>
      <path className={css.whisker} d={`M${x} ${bottom}V${top}M${x - 6} ${bottom}h12M${x - 6} ${top}h12`} />
      <circle className={isEstimate ? css.estimate : css.point} cx={x} cy={y(value)} r={5.5} />
      <text className={css.value} x={x + 11} y={y(value) - 6}>
        {written(value)}
      </text>
      {unlikeBefore.map((difference, row) => (
        <text key={difference} className={css.note} x={x} y={foot + 4 + row * 14} textAnchor="middle">
          {SHORT[difference]}
        </text>
      ))}
    </g>
  );
};
