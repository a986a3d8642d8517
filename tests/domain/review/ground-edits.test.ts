import { describe, expect, it } from 'vitest';
import {
  calibrationAt,
  putCalibration,
  putJoint,
  removeCalibration,
  removeJoint,
} from '@/lib/domain/review/edits';
import { parseSheet } from '@/lib/domain/review/parse-sheet';
import { emptySheet, type Calibration, type Joint } from '@/lib/domain/review/sheet';
import { CagepostError } from '@/lib/domain/shared/errors';
import { CLIP, nextId } from '../marks/build-mark';

const buildCalibration = (overrides: Partial<Calibration> = {}): Calibration => ({
  clipId: CLIP,
  fromFrame: 0,
  field: 'baseball',
  ground: [{ at: 'plate-apex', point: { x: 0.5, y: 0.8 } }],
  isZoomed: null,
  ...overrides,
});
const buildJoint = (overrides: Partial<Joint> = {}): Joint => ({
  clipId: CLIP,
  frame: 64,
  name: 'stride-toe',
  point: { x: 0.5, y: 0.8 },
  isLifted: false,
  ...overrides,
});

describe('calibrations on the sheet', () => {
  it('changes the one of its clip and first frame, and adds one where the camera moved', () => {
    const first = putCalibration(emptySheet(), buildCalibration());
    const changed = putCalibration(first, buildCalibration({ field: 'softball' }));
    expect(changed.calibrations).toEqual([buildCalibration({ field: 'softball' })]);
    const split = putCalibration(changed, buildCalibration({ fromFrame: 70 }));
    expect(split.calibrations).toHaveLength(2);
    expect(parseSheet(split)).toEqual(split);
    expect(first.calibrations[0]?.field).toBe('baseball');
  });

  it('holds from its first frame until the next one of the clip, and never on another clip', () => {
    const [early, late] = [buildCalibration({ fromFrame: 10 }), buildCalibration({ fromFrame: 70 })];
    const sheet = [late, early].reduce(putCalibration, emptySheet());
    expect(calibrationAt(sheet, CLIP, 9)).toBeUndefined();
    expect(calibrationAt(sheet, CLIP, 10)).toEqual(early);
    expect(calibrationAt(sheet, CLIP, 69)).toEqual(early);
    expect(calibrationAt(sheet, CLIP, 70)).toEqual(late);
    expect(calibrationAt(sheet, nextId(), 70)).toBeUndefined();
  });

  it('is taken away alone', () => {
    const sheet = [buildCalibration(), buildCalibration({ fromFrame: 70 })].reduce(
      putCalibration,
      putJoint(emptySheet(), buildJoint()),
    );
    const less = removeCalibration(sheet, CLIP, 70);
    expect(less.calibrations).toEqual([buildCalibration()]);
    expect(less.joints).toHaveLength(1);
    expect(removeCalibration(less, CLIP, 3)).toEqual(less);
  });

  it('refuses a seventeenth and a corner far outside the picture', () => {
    const full = Array.from({ length: 16 }, (_, i) => buildCalibration({ fromFrame: i })).reduce(
      putCalibration,
      emptySheet(),
    );
    expect(() => putCalibration(full, buildCalibration({ fromFrame: 16 }))).toThrow(CagepostError);
    const far = buildCalibration({ ground: [{ at: 'plate-apex', point: { x: 3, y: 0.5 } }] });
    expect(() => putCalibration(emptySheet(), far)).toThrow();
  });
});

describe('points of the hitter on the sheet', () => {
  it('moves the point of its clip, frame and name instead of setting a second one', () => {
    const set = putJoint(emptySheet(), buildJoint());
    const moved = putJoint(set, buildJoint({ point: { x: 0.51, y: 0.8 }, isLifted: true }));
    expect(moved.joints).toEqual([buildJoint({ point: { x: 0.51, y: 0.8 }, isLifted: true })]);
    const more = [buildJoint({ frame: 65 }), buildJoint({ name: 'stride-heel' })].reduce(putJoint, moved);
    expect(more.joints).toHaveLength(3);
    expect(parseSheet(more)).toEqual(more);
    expect(removeJoint(more, buildJoint()).joints).toHaveLength(2);
    expect(removeJoint(more, buildJoint({ frame: 1 }))).toEqual(more);
  });

  it('refuses a six hundred and first', () => {
    const joints = Array.from({ length: 600 }, (_, frame) => buildJoint({ frame }));
    expect(() => putJoint({ ...emptySheet(), joints }, buildJoint({ frame: 600 }))).toThrow(/600/);
  });
});
