import type { FramePoint } from '@/lib/domain/marks/mark';
import type { GroundName, JointName } from '@/lib/domain/measures/names';
import { calibrationAt, putCalibration, putJoint } from '@/lib/domain/review/edits';
import type { Calibration, Sheet } from '@/lib/domain/review/sheet';

/** A calibration that holds from the clip's first frame and has no corner yet. */
export const emptyCalibration = (clipId: string): Calibration => ({
  clipId,
  fromFrame: 0,
  field: 'baseball',
  ground: [],
  isZoomed: null,
});

/** Changes the calibration that holds on a frame; begins one when there is none. */
export const changeCalibration = (
  sheet: Sheet,
  clipId: string,
  frame: number,
  change: (calibration: Calibration) => Calibration,
): Sheet => putCalibration(sheet, change(calibrationAt(sheet, clipId, frame) ?? emptyCalibration(clipId)));

/** Puts a corner where it was clicked. */
export const cornerOn = (
  sheet: Sheet,
  clipId: string,
  frame: number,
  at: GroundName,
  point: FramePoint,
): Sheet =>
  changeCalibration(sheet, clipId, frame, (calibration) => ({
    ...calibration,
    ground: [...calibration.ground.filter((corner) => corner.at !== at), { at, point }],
  }));

/** Takes a corner off. */
export const cornerOff = (sheet: Sheet, clipId: string, frame: number, at: GroundName): Sheet =>
  changeCalibration(sheet, clipId, frame, (calibration) => ({
    ...calibration,
    ground: calibration.ground.filter((corner) => corner.at !== at),
  }));

/** Begins a calibration of its own at this frame, because the camera was moved; field and zoom stay as they were. */
export const splitAt = (sheet: Sheet, clipId: string, frame: number): Sheet =>
  putCalibration(sheet, {
    ...(calibrationAt(sheet, clipId, frame) ?? emptyCalibration(clipId)),
    fromFrame: frame,
    ground: [],
  });

/** Puts a point of the hitter where it was clicked; whether it is off the ground stays. */
export const jointOn = (
  sheet: Sheet,
  clipId: string,
  frame: number,
  name: JointName,
  point: FramePoint,
): Sheet => {
  const before = sheet.joints.find((j) => j.clipId === clipId && j.frame === frame && j.name === name);
  return putJoint(sheet, { clipId, frame, name, point, isLifted: before?.isLifted ?? false });
};
