import type { Hand } from '@/lib/domain/lessons/state';
import type { JointName } from '@/lib/domain/measures/names';
import css from './measure.module.css';

// A right-handed hitter at foot strike, seen from the open side, pitcher to the right; a lefty is the mirror image.
const AT: Record<JointName, readonly [number, number]> = {
  head: [104, 28],
  'front-shoulder': [122, 58],
  'rear-shoulder': [88, 62],
  belt: [108, 104],
  'front-knee': [140, 146],
  'front-ankle': [152, 184],
  'stride-heel': [146, 196],
  'stride-toe': [184, 199],
  'rear-heel': [50, 192],
  'rear-toe': [74, 199],
};

const BODY =
  'M104 40C104 50 104 54 105 60M88 62 122 58M92 64C94 84 98 96 100 104M118 60C118 80 116 96 114 104M100 104 114 104' +
  'M114 106C124 120 134 132 140 146L152 184M100 106C90 122 80 136 76 150L58 184M88 62C74 72 72 80 80 66M122 58C112 74 98 76 82 66';
const BAT = 'M80 66 60 8';
const FEET = 'M144 198C150 190 158 192 168 196L186 200H146ZM48 194C54 188 62 192 68 196L76 200H52Z';

type Props = { bats: Hand; asked: string | null; isSet: (name: JointName) => boolean };

/** Where the next point lies on the hitter. The list says the same in words. */
export const HitterFigure = ({ bats, asked, isSet }: Props) => (
  <svg className={css.figure} viewBox="0 0 230 216" aria-hidden="true" focusable="false">
    <g transform={bats === 'left' ? 'translate(230 0) scale(-1 1)' : undefined}>
      <path className={css.groundline} d="M20 202H214" />
      <path className={css.toward} d="M206 30h18M218 24l6 6-6 6" />
      <circle className={css.body} cx="104" cy="28" r="13" />
      <path className={css.body} d={BODY} />
      <path className={css.body} d={BAT} />
      <path className={css.shoe} d={FEET} />
      {(Object.keys(AT) as JointName[]).map((name) => {
        const [x, y] = AT[name];
        const kind = name === asked ? css.next : isSet(name) ? css.isset : css.open;
        return (
          <g key={name} className={kind}>
            <circle cx={x} cy={y} r={name === asked ? 8 : 3.5} />
          </g>
        );
      })}
    </g>
  </svg>
);
