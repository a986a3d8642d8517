import type { FrameTable } from '../clips/frame-table';
import { toPixel } from '../marks/geometry';
import type { Calibration, Joint, Pin, Sheet } from '../review/sheet';
import { calibrate, type Calibrated, type CalibrationInput } from './calibrate';
import type { Bats } from './field';
import { measuresOf, type Measure } from './measure';
import type { Points } from './quantities';
import type { MeasureRecord } from './record';
import type { Moments } from './timing';

/** The parts of a sheet that numbers come from. */
export type SheetPoints = Pick<Sheet, 'calibrations' | 'joints' | 'pins'>;

/** A clip as far as measuring goes. `focal` in pixels of the rendition, where the file told it; ids as in the sheet. */
export interface MeasuredClip {
  readonly id: string;
  readonly table: FrameTable;
  readonly focal: number | null;
}

/**
 * Standard deviation of a click through the loupe, in pixels of the rendition: our own choice, to be held against what
 * two coaches click.
 */
export const CLICK_SD = 0.7;

/** A calibration of a sheet as `calibrate` takes it: fractions of the picture become pixels. */
export const calibrationInput = (
  calibration: Calibration,
  clip: MeasuredClip,
  bats: Bats,
): CalibrationInput => {
  const { width, height } = clip.table;
  return {
    frame: { width, height },
    bats,
    field: calibration.field,
    ground: calibration.ground.map(({ at, point }) => {
      const [x, y] = toPixel(point, { width, height });
      return { at, x, y };
    }),
    focal: clip.focal,
    isZoomed: calibration.isZoomed,
    clickSd: CLICK_SD,
  };
};

/** The camera of a calibration of a sheet, or why there is none. */
export const calibrationOf = (calibration: Calibration, clip: MeasuredClip, bats: Bats): Calibrated =>
  calibrate(calibrationInput(calibration, clip, bats));

/** What a sheet says about one clip in numbers. `record` is the open record of it. */
export interface ClipMeasures {
  readonly clipId: string;
  readonly strikeFrame: number | null;
  readonly record: MeasureRecord;
  readonly calibration: Calibrated;
  readonly measures: readonly Measure[];
}

/**
 * The measures of one clip of a sheet at its pinned foot strike (or at `frame`), computed anew from corners, points and
 * pins. What is missing comes out as refusals that say so. Later frames up to contact add to the stride foot where both
 * its points are set.
 */
export const clipMeasures = (swing: {
  readonly sheet: SheetPoints;
  readonly clip: MeasuredClip;
  readonly bats: Bats;
  readonly frame?: number | null;
}): ClipMeasures => {
  const { sheet, clip } = swing;
  const strikeFrame = swing.frame ?? pinned(sheet, clip, 'foot_strike');
  const record = recordOf(sheet, clip, swing.bats, strikeFrame);
  const { zoomed, ...input } = record;
  return { clipId: clip.id, strikeFrame, record, ...measuresOf({ ...input, isZoomed: zoomed }) };
};

const pinned = (sheet: SheetPoints, clip: MeasuredClip, checkpoint: Pin['checkpoint']): number | null =>
  sheet.pins.find((pin) => pin.clipId === clip.id && pin.checkpoint === checkpoint)?.frame ?? null;

const recordOf = (
  sheet: SheetPoints,
  clip: MeasuredClip,
  bats: Bats,
  strike: number | null,
): MeasureRecord => {
  const joints = sheet.joints.filter((joint) => joint.clipId === clip.id);
  const atStrike = joints.filter((joint) => joint.frame === strike);
  const { isZoomed, ...ground } = calibrationInput(
    calibrationFor(sheet, clip, strike) ?? noCalibration(clip.id),
    clip,
    bats,
  );
  return {
    version: 1,
    ...ground,
    ground: [...ground.ground],
    zoomed: isZoomed,
    points: pixels(atStrike, clip),
    planted: plantedAfter(joints, strike, pinned(sheet, clip, 'contact')).map((on) => pixels(on, clip)),
    lifted: atStrike.filter((joint) => joint.isLifted).map((joint) => joint.name),
    moments: momentsOf(sheet, clip),
  };
};

const noCalibration = (clipId: string): Calibration => ({
  clipId,
  fromFrame: 0,
  field: 'baseball',
  ground: [],
  isZoomed: null,
});

const calibrationFor = (sheet: SheetPoints, clip: MeasuredClip, frame: number | null) =>
  sheet.calibrations
    .filter((c) => c.clipId === clip.id && (frame === null || c.fromFrame <= frame))
    .sort((a, b) => b.fromFrame - a.fromFrame)[0];

const pixels = (joints: readonly Joint[], { table }: MeasuredClip): Points =>
  Object.fromEntries(
    joints.map(({ name, point }) => {
      const [x, y] = toPixel(point, table);
      return [name, { x, y }];
    }),
  );

const plantedAfter = (
  joints: readonly Joint[],
  strike: number | null,
  contact: number | null,
): (readonly Joint[])[] => {
  if (strike === null) return [];
  const later = joints.filter(
    ({ frame, isLifted }) => !isLifted && frame > strike && frame <= (contact ?? Infinity),
  );
  const frames = [...new Set(later.map((joint) => joint.frame))];
  return frames.map((frame) => later.filter((joint) => joint.frame === frame));
};

/** How many times slower than life a file plays: 8 for 240 pictures a second played at 30. */
const slowness = ({ ptsUs, fileRate, captureRate }: FrameTable): number => {
  const span = (ptsUs.at(-1) ?? 0) - (ptsUs[0] ?? 0);
  const played = fileRate ?? (span > 0 ? ((ptsUs.length - 1) * 1e6) / span : null);
  return played && captureRate ? captureRate / played : 1;
};

const momentsOf = (sheet: SheetPoints, clip: MeasuredClip): Moments => {
  const slower = slowness(clip.table);
  const at = (checkpoint: Pin['checkpoint']) => {
    const frame = pinned(sheet, clip, checkpoint);
    const pts = frame === null ? undefined : clip.table.ptsUs[frame];
    return pts === undefined ? null : pts / 1000 / slower;
  };
  return {
    load: at('load'),
    footStrike: at('foot_strike'),
    contact: at('contact'),
    captureRate: clip.table.captureRate,
  };
};
