import { parseMarks } from '../marks/parse-mark';
import { versionedParser } from '../marks/versioned';
import { sheetSchema, type Calibration, type ItemAnswer, type Joint, type Pin, type Sheet } from './sheet';

/** What makes two pins the same pin: one per checkpoint and clip. */
export const pinKey = (pin: Pick<Pin, 'clipId' | 'checkpoint'>) => `${pin.clipId}/${pin.checkpoint}`;

/** What makes two calibrations the same one: one per clip and first frame. */
export const calibrationKey = (calibration: Pick<Calibration, 'clipId' | 'fromFrame'>) =>
  `${calibration.clipId}/${calibration.fromFrame}`;

/** What makes two points the same point: one per clip, frame and name. */
export const jointKey = (joint: Pick<Joint, 'clipId' | 'frame' | 'name'>) =>
  `${joint.clipId}/${joint.frame}/${joint.name}`;

const isDistinct = (keys: readonly string[]) => new Set(keys).size === keys.length;

const soundSheetSchema = sheetSchema
  .refine((s) => isDistinct(s.pins.map(pinKey)), 'One pin per checkpoint and clip.')
  .refine((s) => isDistinct(s.answers.map((a: ItemAnswer) => a.itemId)), 'One answer per item.')
  .refine((s) => isDistinct(s.cues.map((c) => c.id)), 'Every cue has its own id.')
  .refine((s) => isDistinct(s.calibrations.map(calibrationKey)), 'One calibration per clip and first frame.')
  .refine((s) => isDistinct(s.joints.map(jointKey)), 'One point per clip, frame and name.')
  .refine((s) => isDistinct(s.assignments.map((a) => a.id)), 'Every drill given has its own id.');

const parseOuter = versionedParser<Sheet>({
  what: 'sheet',
  version: 1,
  upgrades: {},
  schema: soundSheetSchema,
});

/**
 * Reads a sheet that was stored or sent: lifts older versions, of its marks too, and refuses the rest with a
 * `CagepostError` whose sentence can be shown.
 */
export const parseSheet = (raw: unknown): Sheet => {
  if (typeof raw === 'object' && raw !== null && 'marks' in raw) {
    return parseOuter({ ...raw, marks: parseMarks(raw.marks) });
  }
  return parseOuter(raw);
};
