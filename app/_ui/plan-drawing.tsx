import type { ClipView } from '@/lib/domain/clips/clip';
import type { Hand } from '@/lib/domain/lessons/state';

const SHOE = 'M-4 13c-2-5-1-8-2-14s2-12 6-12 7 5 6 12-1 9-2 14a4 4 0 0 1-8 0Z';

// From the hitter (between the shoes of a righty) to where the phone stands; a lefty's is the mirror image.
const SIGHT = {
  open_side: 'M128 186 276 189',
  behind: 'M128 186 170 258',
  back: 'M128 186 76 189',
  front: 'M128 186 172 52',
} as const satisfies Record<ClipView, string>;

const boxes = <path d="M102 130h50v112h-50ZM198 130h50v112h-50Z" />;
const lines = <path d="M175 232-40 17M175 232 390 17" />;

type Props = {
  bats: Hand;
  view: ClipView | null;
  /** Only the part around the plate, for pictures without places to choose. */
  isLow?: boolean;
};

/** Plate, boxes and the hitter's shoes seen from above, pitcher at the top, with the phone's line of sight. Decoration. */
export const PlanDrawing = ({ bats, view, isLow = false }: Props) => (
  <svg viewBox={isLow ? '0 56 350 204' : '0 0 350 300'} aria-hidden="true" focusable="false">
    <path className="ground" d="M0 0h350v300H0Z" />
    <g className="chalked">{lines}</g>
    <g className="chalked top2">{lines}</g>
    <circle className="infield" cx="175" cy="190" r="92" />
    <g className="chalked">{boxes}</g>
    <g className="chalked top2">{boxes}</g>
    <path className="plate" d="M157 176h36v18l-18 18-18-18Z" />
    <path className="toward" d="M175 96V66M168 73l7-7 7 7" />
    <g transform={bats === 'left' ? 'translate(350 0) scale(-1 1)' : undefined}>
      <path className="shoe" d={SHOE} transform="translate(128 218) rotate(88)" />
      <path className="shoe" d={SHOE} transform="translate(129 154) rotate(70)" />
      {view && <path className="sight" d={SIGHT[view]} />}
    </g>
  </svg>
);
