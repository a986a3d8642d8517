import * as z from 'zod';
import { CHECKPOINTS, STRIKE_KINDS, VERDICTS } from '../checkpoints/checkpoint';
import { framePointSchema, markSchema } from '../marks/mark';
import { doseSchema } from '../drills/dose';
import { FIELDS, GROUND_NAMES, JOINT_NAMES } from '../measures/names';

export const CUE_FOCUS = ['external', 'internal'] as const;

/** A checkpoint pinned to a frame of a clip. `strike` says which kind of foot strike was picked. */
export const pinSchema = z.object({
  checkpoint: z.enum(CHECKPOINTS),
  clipId: z.uuid(),
  frame: z.int().nonnegative(),
  strike: z.enum(STRIKE_KINDS).nullable(),
});

/** The answer to one checklist item: verdict, a note for the player, and the frame it was judged on. */
export const answerSchema = z.object({
  itemId: z.string().max(48),
  verdict: z.enum(VERDICTS).nullable(),
  note: z.string().max(1000),
  clipId: z.uuid().nullable(),
  frame: z.int().nonnegative().nullable(),
});

export const cueSchema = z.object({
  id: z.uuid(),
  text: z.string().max(140),
  /** Attention on the effect (external) or on the body (internal). */
  focus: z.enum(CUE_FOCUS),
});

/**
 * Where plate and box lie on the picture, clicked by the coach; holds from `fromFrame` until the next one of that clip
 * (the camera was moved). Corners out of the picture are left out.
 */
export const calibrationSchema = z.object({
  clipId: z.uuid(),
  fromFrame: z.int().nonnegative(),
  field: z.enum(FIELDS),
  ground: z.array(z.object({ at: z.enum(GROUND_NAMES), point: framePointSchema })).max(9),
  /** Whether the clip was zoomed while it was taken; null: not known. */
  isZoomed: z.boolean().nullable(),
});

/** A point of the hitter on one frame, set or confirmed by a person. */
export const jointSchema = z.object({
  clipId: z.uuid(),
  frame: z.int().nonnegative(),
  name: z.enum(JOINT_NAMES),
  point: framePointSchema,
  /** For feet: the heel is off the ground here. */
  isLifted: z.boolean().default(false),
});

/** A drill given with this lesson; it becomes the player's when the lesson is returned. */
export const assignmentSchema = z.object({
  id: z.uuid(),
  drillId: z.uuid(),
  dose: doseSchema,
  cue: z.string().max(140),
  /** A follow-up swing is asked for by that day of the program's calendar. */
  swingBy: z.iso.date().nullable(),
});

/** Everything a coach writes about one lesson: saved whole, replayed whole. Version 1. */
export const sheetSchema = z.object({
  version: z.literal(1),
  /** At most one per checkpoint and clip. */
  pins: z.array(pinSchema).max(20),
  /** At most one per item. */
  answers: z.array(answerSchema).max(60),
  /** The one item this lesson is about, and the sentence the player reads first. */
  fixFirst: z.object({ itemId: z.string().max(48), sentence: z.string().max(160) }).nullable(),
  cues: z.array(cueSchema).max(12), // more than three is told, not refused
  marks: z.array(markSchema).max(400),
  /** At most one per clip and first frame. */
  calibrations: z.array(calibrationSchema).max(16).default([]),
  /** At most one per clip, frame and name. */
  joints: z.array(jointSchema).max(600).default([]),
  assignments: z.array(assignmentSchema).max(12).default([]), // more than three is told, not refused
});
export type Sheet = z.infer<typeof sheetSchema>;
export type Pin = z.infer<typeof pinSchema>;
export type ItemAnswer = z.infer<typeof answerSchema>;
export type Cue = z.infer<typeof cueSchema>;
export type Calibration = z.infer<typeof calibrationSchema>;
export type Joint = z.infer<typeof jointSchema>;
export type SheetAssignment = z.infer<typeof assignmentSchema>;

/** A sheet with nothing on it. */
export const emptySheet = (): Sheet => ({
  version: 1,
  pins: [],
  answers: [],
  fixFirst: null,
  cues: [],
  marks: [],
  calibrations: [],
  joints: [],
  assignments: [],
});
