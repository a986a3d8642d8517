import * as z from 'zod';
import { eventSchema, MAX_BREAKDOWN_MS } from './event';

const ms = z.int().nonnegative().max(MAX_BREAKDOWN_MS);

/** The clips a breakdown speaks about, with what must hold for its frames to be the same ones. */
export const timelineClipSchema = z.object({ clipId: z.uuid(), frameCount: z.int().positive() });

/**
 * A whole breakdown: what was done, in order of time, over a voice of `durationMs`. Version 1; the file
 * `timeline.json`. The first event is a `scene` at 0; `t` never falls.
 */
export const timelineSchema = z.object({
  version: z.literal(1),
  clips: z.array(timelineClipSchema).min(1).max(8),
  durationMs: ms,
  hasVoice: z.boolean(),
  events: z.array(eventSchema).min(1).max(60_000),
});
export type Timeline = z.infer<typeof timelineSchema>;

/**
 * What the coach kept: pieces of takes, in order. `segmentId` names a take (one run of the recorder, or a spoken
 * remark dropped in); `fromMs` to `toMs` is what is used of it. "Again from here" shortens the last piece and adds one.
 */
export const recipeSchema = z.object({
  version: z.literal(1),
  clips: z.array(timelineClipSchema).min(1).max(8),
  pieces: z
    .array(
      z
        .object({
          segmentId: z.uuid(),
          /** `voice`: recorded here; `silent`: events without a voice; `remark`: the owner's remark with this id. */
          kind: z.enum(['voice', 'silent', 'remark']),
          fromMs: ms,
          toMs: ms,
        })
        .refine((piece) => piece.toMs > piece.fromMs, 'A piece ends after it begins.'),
    )
    .min(1)
    .max(200),
});
export type Recipe = z.infer<typeof recipeSchema>;
export type Piece = Recipe['pieces'][number];

/**
 * One part of a take as it is kept and sent: about ten seconds of voice bytes (the recorder's own stream, to be joined
 * in order of `number`) with the events of the same time. Version 2; FORMAT.md says how it lies in a file.
 */
export const partHeadSchema = z.object({
  version: z.literal(2),
  segmentId: z.uuid(),
  number: z.int().nonnegative().max(2000),
  /** Media type of the voice, "" when there is none. */
  voiceType: z.string().max(100),
  voiceBytes: z.int().nonnegative(),
  fromMs: ms,
  toMs: ms,
  events: z.array(eventSchema).max(20_000),
});
export type PartHead = z.infer<typeof partHeadSchema>;

/** Media type under which parts are uploaded. */
export const PART_TYPE = 'application/vnd.cagepost.breakdown-part';
