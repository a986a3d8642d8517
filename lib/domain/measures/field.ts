import type { Field, GroundName } from './names';
import type { Vec3 } from './vector';

export type Bats = 'right' | 'left';

const INCH = 0.0254;
const FOOT = 0.3048;

/**
 * Home plate: a 17-inch square with two corners cut off, 8½ inches along each side (Official Baseball Rules 2.02). The
 * rule's 12-inch slant edges are rounded: two 8½-inch legs make 12.021.
 */
const PLATE = { width: 17 * INCH, side: 8.5 * INCH, length: 17 * INCH } as const;

interface BoxSize {
  width: number;
  length: number;
  /** From the side of the plate to the outside edge of the box's inner line. */
  gap: number;
}

/**
 * Batter's boxes at the outside edges of their lines, centred on the middle of the plate. Read in secondary pages, not
 * in the rule books themselves: baseball 4 by 6 ft, 6 in from the plate; softball 3 by 7 ft, 6 in; youth (Little
 * League, Majors and below) 3 by 6 ft with 25 in between the two boxes, which leaves 4 in on each side of the plate.
 * A softball box may be drawn further forward than its middle; then its corners do not fit and are named.
 */
const BOXES: Record<Field, BoxSize> = {
  baseball: { width: 4 * FOOT, length: 6 * FOOT, gap: 6 * INCH },
  softball: { width: 3 * FOOT, length: 7 * FOOT, gap: 6 * INCH },
  youth: { width: 3 * FOOT, length: 6 * FOOT, gap: 4 * INCH },
};

/** The dimensions in words, with where they come from, to be shown beside the choice. */
export const FIELD_SOURCES: Record<Field, string> = {
  baseball: 'Plate 17 in wide (Official Baseball Rules 2.02). Box 4 × 6 ft, 6 in from the plate.',
  softball: 'Plate 17 in wide, as in baseball. Box 3 × 7 ft, 6 in from the plate.',
  youth: 'Plate 17 in wide, as in baseball. Box 3 × 6 ft, 4 in from the plate (25 in between the boxes).',
};

/** Distance of the plate's middle from its rear apex. */
const MIDDLE = 8.5 * INCH;

/** 1 for a hitter on the third-base side (right-handed), -1 on the first-base side. */
export const sideOf = (bats: Bats): 1 | -1 => (bats === 'right' ? 1 : -1);

/** Where a corner of plate or of the hitter's own box lies on the ground, in metres. */
export const groundPoint = (field: Field, bats: Bats, at: GroundName): Vec3 => {
  const half = PLATE.width / 2;
  const box = BOXES[field];
  const inner = sideOf(bats) * (half + box.gap);
  const outer = sideOf(bats) * (half + box.gap + box.width);
  const front = MIDDLE + box.length / 2;
  const rear = MIDDLE - box.length / 2;
  switch (at) {
    case 'plate-apex':
      return [0, 0, 0];
    case 'plate-side-third':
      return [PLATE.length - PLATE.side, half, 0];
    case 'plate-front-third':
      return [PLATE.length, half, 0];
    case 'plate-front-first':
      return [PLATE.length, -half, 0];
    case 'plate-side-first':
      return [PLATE.length - PLATE.side, -half, 0];
    case 'box-inner-front':
      return [front, inner, 0];
    case 'box-inner-rear':
      return [rear, inner, 0];
    case 'box-outer-rear':
      return [rear, outer, 0];
    case 'box-outer-front':
      return [front, outer, 0];
  }
};

export const PLATE_CORNERS = [
  'plate-apex',
  'plate-side-third',
  'plate-front-third',
  'plate-front-first',
  'plate-side-first',
] as const satisfies readonly GroundName[];

export const BOX_CORNERS = [
  'box-inner-front',
  'box-inner-rear',
  'box-outer-rear',
  'box-outer-front',
] as const satisfies readonly GroundName[];

/** The middle of the hitter's own box: where a hitter is taken to stand before the feet are known. */
export const boxMiddle = (field: Field, bats: Bats): Vec3 => {
  const box = BOXES[field];
  return [MIDDLE, sideOf(bats) * (PLATE.width / 2 + box.gap + box.width / 2), 0];
};
