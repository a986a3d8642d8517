import type { Hand } from '@/lib/domain/lessons/state';
import { BOX_CORNERS, groundPoint, PLATE_CORNERS } from '@/lib/domain/measures/field';
import type { Field, GroundName } from '@/lib/domain/measures/names';
import css from './measure.module.css';

const SCALE = 74;
const MIDDLE = { x: 150, y: 96 };

type Props = {
  field: Field;
  bats: Hand;
  asked: string | null;
  isSet: (at: GroundName) => boolean;
  isOut: (at: GroundName) => boolean;
  isPlateOnly: boolean;
  /** The number of each corner in the list. */
  numberOf: (at: GroundName) => number;
};

/** Plate and the hitter's box from above, pitcher at the top, with the corner that comes next. The list says the same. */
export const CornerPlan = ({ field, bats, asked, isSet, isOut, isPlateOnly, numberOf }: Props) => {
  const at = (name: GroundName): [number, number] => {
    const [x, y] = groundPoint(field, bats, name);
    return [MIDDLE.x - y * SCALE, MIDDLE.y - (x - 0.2159) * SCALE];
  };
  const ring = (names: readonly GroundName[]) => `M${names.map((name) => at(name).join(' ')).join('L')}Z`;
  const names: readonly GroundName[] = isPlateOnly ? PLATE_CORNERS : [...PLATE_CORNERS, ...BOX_CORNERS];
  return (
    <svg className={css.plan} viewBox="0 0 300 196" aria-hidden="true" focusable="false">
      <path className={css.dirt} d="M0 0h300v196H0Z" />
      {isPlateOnly ? null : <path className={css.boxline} d={ring(BOX_CORNERS)} />}
      <path className={css.plate} d={ring(PLATE_CORNERS)} />
      <path className={css.toward} d="M150 40V14M144 20l6-6 6 6" />
      <text className={css.plantext} x="160" y="22">
        pitcher
      </text>
      {names.map((name) => {
        const [x, y] = at(name);
        const kind = name === asked ? css.next : isSet(name) ? css.isset : isOut(name) ? css.isout : css.open;
        return (
          <g key={name} className={kind}>
            <circle cx={x} cy={y} r={name === asked ? 8 : 4.5} />
            {isOut(name) ? <path d={`M${x - 4} ${y - 4}l8 8M${x + 4} ${y - 4}l-8 8`} /> : null}
            {name === asked ? (
              <text x={x} y={y - 12} textAnchor="middle" className={css.plantext}>
                {numberOf(name)}
              </text>
            ) : null}
          </g>
        );
      })}
    </svg>
  );
};
