import type { Checkpoint } from '../checkpoints/checkpoint';
import type { Mark } from '../marks/mark';
import { MAX_MARKS } from '../marks/parse-mark';
import { CagepostError } from '../shared/errors';
import { calibrationKey, jointKey, pinKey } from './parse-sheet';
import {
  answerSchema,
  assignmentSchema,
  calibrationSchema,
  cueSchema,
  jointSchema,
  pinSchema,
  sheetSchema,
  type Calibration,
  type Cue,
  type ItemAnswer,
  type Joint,
  type Pin,
  type Sheet,
  type SheetAssignment,
} from './sheet';

/** As many cues as `sheetSchema` takes; more than three is only a reminder (`missing.ts`). */
const MAX_CUES = 12;
/** As many calibrations and points as `sheetSchema` takes. */
const MAX_CALIBRATIONS = 16;
const MAX_JOINTS = 600;
/** As many drills as `sheetSchema` takes; more than three is only a reminder (`missing.ts`). */
export const MAX_ASSIGNMENTS = 12;

/** Puts `next` in the place of the entry with the same key, or at the end. */
const upsert = <T>(list: readonly T[], next: T, key: (entry: T) => string): T[] => {
  const at = list.findIndex((entry) => key(entry) === key(next));
  return at < 0 ? [...list, next] : list.with(at, next);
};

/** Refuses a list with more entries than the sheet holds; the sentence says so and what to do. */
const assertRoom = (list: readonly unknown[], most: number, sentence: string): void => {
  if (list.length > most) throw new CagepostError('too-large', sentence);
};

/** Pins a checkpoint of a clip to a frame; an earlier pin of that checkpoint and clip moves. */
export const pin = (sheet: Sheet, next: Pin): Sheet => ({
  ...sheet,
  pins: upsert(sheet.pins, pinSchema.parse(next), pinKey),
});

/** Takes a pin away; one that is not there is fine. */
export const unpin = (sheet: Sheet, checkpoint: Checkpoint, clipId: string): Sheet => ({
  ...sheet,
  pins: sheet.pins.filter((p) => pinKey(p) !== pinKey({ checkpoint, clipId })),
});

/** The pin of a checkpoint on a clip, if there is one. */
export const pinOf = (sheet: Sheet, checkpoint: Checkpoint, clipId: string): Pin | undefined =>
  sheet.pins.find((p) => pinKey(p) === pinKey({ checkpoint, clipId }));

/** The answer to an item; an empty one when it was not touched yet. */
export const answerOf = (sheet: Sheet, itemId: string): ItemAnswer =>
  sheet.answers.find((a) => a.itemId === itemId) ?? {
    itemId,
    verdict: null,
    note: '',
    clipId: null,
    frame: null,
  };

/** Changes parts of the answer to one item. An answer without verdict and note is taken off the sheet. */
export const answer = (sheet: Sheet, itemId: string, change: Partial<Omit<ItemAnswer, 'itemId'>>): Sheet => {
  const next = answerSchema.parse({ ...answerOf(sheet, itemId), ...change });
  const isEmpty = next.verdict === null && next.note === '' && next.frame === null;
  return {
    ...sheet,
    answers: isEmpty
      ? sheet.answers.filter((a) => a.itemId !== itemId)
      : upsert(sheet.answers, next, (a) => a.itemId),
  };
};

/** Names the one item that the lesson is about and the sentence the player reads first; null takes it back. */
export const setFixFirst = (sheet: Sheet, fixFirst: Sheet['fixFirst']): Sheet => ({
  ...sheet,
  fixFirst: sheetSchema.shape.fixFirst.parse(fixFirst),
});

/** Adds a cue or changes the one with its id. Throws `CagepostError` ("too-large") past twelve. */
export const putCue = (sheet: Sheet, cue: Cue): Sheet => {
  const cues = upsert(sheet.cues, cueSchema.parse(cue), (c) => c.id);
  assertRoom(
    cues,
    MAX_CUES,
    `A lesson holds at most ${MAX_CUES} cues. The others are kept; take one out first.`,
  );
  return { ...sheet, cues };
};

/** Takes a cue away; one that is not there is fine. */
export const removeCue = (sheet: Sheet, cueId: string): Sheet => ({
  ...sheet,
  cues: sheet.cues.filter((c) => c.id !== cueId),
});

/** Puts the marks of a gesture in place of what was there. Throws `CagepostError` ("too-large") past the limit. */
export const setMarks = (sheet: Sheet, marks: readonly Mark[]): Sheet => {
  assertRoom(
    marks,
    MAX_MARKS,
    `A lesson holds at most ${MAX_MARKS} marks. All are kept; rub out some before you draw more.`,
  );
  return { ...sheet, marks: [...marks] };
};

/** Adds a mark or changes the one with its id. */
export const putMark = (sheet: Sheet, mark: Mark): Sheet =>
  setMarks(
    sheet,
    upsert(sheet.marks, mark, (m) => m.id),
  );

/** Takes a mark away; one that is not there is fine. */
export const removeMark = (sheet: Sheet, markId: string): Sheet => ({
  ...sheet,
  marks: sheet.marks.filter((m) => m.id !== markId),
});

/** Adds a calibration or changes the one of its clip and first frame. Throws `CagepostError` ("too-large") past 16. */
export const putCalibration = (sheet: Sheet, calibration: Calibration): Sheet => {
  const calibrations = upsert(sheet.calibrations, calibrationSchema.parse(calibration), calibrationKey);
  assertRoom(
    calibrations,
    MAX_CALIBRATIONS,
    `A lesson holds at most ${MAX_CALIBRATIONS} calibrations of the ground. All are kept; take one out first.`,
  );
  return { ...sheet, calibrations };
};

/** Takes a calibration away; one that is not there is fine. The points of the hitter stay. */
export const removeCalibration = (sheet: Sheet, clipId: string, fromFrame: number): Sheet => ({
  ...sheet,
  calibrations: sheet.calibrations.filter((c) => calibrationKey(c) !== calibrationKey({ clipId, fromFrame })),
});

/** The calibration that holds on a frame: the latest of its clip that starts there or before. */
export const calibrationAt = (sheet: Sheet, clipId: string, frame: number): Calibration | undefined =>
  sheet.calibrations
    .filter((c) => c.clipId === clipId && c.fromFrame <= frame)
    .sort((a, b) => b.fromFrame - a.fromFrame)[0];

/** Adds a point of the hitter or moves the one of its clip, frame and name. Throws ("too-large") past 600. */
export const putJoint = (sheet: Sheet, joint: Joint): Sheet => {
  const joints = upsert(sheet.joints, jointSchema.parse(joint), jointKey);
  assertRoom(
    joints,
    MAX_JOINTS,
    `A lesson holds at most ${MAX_JOINTS} points of the hitter. All are kept; take some out first.`,
  );
  return { ...sheet, joints };
};

/** Takes a point away; one that is not there is fine. */
export const removeJoint = (sheet: Sheet, joint: Pick<Joint, 'clipId' | 'frame' | 'name'>): Sheet => ({
  ...sheet,
  joints: sheet.joints.filter((j) => jointKey(j) !== jointKey(joint)),
});

/** Gives a drill or changes the one with its id. Throws `CagepostError` ("too-large") past twelve. */
export const putAssignment = (sheet: Sheet, assignment: SheetAssignment): Sheet => {
  const assignments = upsert(sheet.assignments, assignmentSchema.parse(assignment), (a) => a.id);
  assertRoom(
    assignments,
    MAX_ASSIGNMENTS,
    `A lesson gives at most ${MAX_ASSIGNMENTS} drills. The others are kept; take one out first.`,
  );
  return { ...sheet, assignments };
};

/** Takes a given drill away; one that is not there is fine. */
export const removeAssignment = (sheet: Sheet, id: string): Sheet => ({
  ...sheet,
  assignments: sheet.assignments.filter((a) => a.id !== id),
});
