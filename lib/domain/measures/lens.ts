import type { PictureSize } from '../marks/geometry';
import { DEG } from './vector';

/** What is believed of a focal length before the corners are looked at: pixels, and the sd of its natural logarithm. */
export interface FocalBelief {
  readonly focal: number;
  readonly logSd: number;
}

/** What is known about the lens: the focal length in pixels from the file, and whether the clip was zoomed. */
export interface LensFacts {
  readonly focal?: number | null | undefined;
  readonly isZoomed?: boolean | null | undefined;
}

/**
 * A phone's main camera while filming, across the long side of the picture: 26 mm equivalent less what steadying the
 * picture cuts off. Common practice, no source.
 */
const USUAL_FIELD_OF_VIEW = 62 * DEG;
// Sds of ln f. A file's focal length does not know what steadying the picture cut off.
const FROM_FILE = 0.05;
const USUAL = 0.15;
const ZOOMED = 0.5;

/**
 * The focal length to start from and how far to trust it. It counts as one more observation in the fit; with plate and
 * box it hardly matters, with the plate alone it halves the error.
 */
export const focalBelief = ({ width, height }: PictureSize, lens: LensFacts): FocalBelief => {
  if (lens.focal) return { focal: lens.focal, logSd: FROM_FILE };
  const focal = Math.max(width, height) / 2 / Math.tan(USUAL_FIELD_OF_VIEW / 2);
  return { focal, logSd: lens.isZoomed ? ZOOMED : USUAL };
};

/** The diagonal of the 36 by 24 mm picture to which makers compare their lenses as "35 mm equivalent". */
const FULL_FRAME_DIAGONAL_MM = Math.hypot(36, 24);

/** A "35 mm equivalent" focal length in millimetres as pixels of a picture of this size. */
export const focalFromEquivalent = (millimetres: number, { width, height }: PictureSize): number =>
  (millimetres / FULL_FRAME_DIAGONAL_MM) * Math.hypot(width, height);
