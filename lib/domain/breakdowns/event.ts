import * as z from 'zod';
import { CHECKPOINTS } from '../checkpoints/checkpoint';
import { framePointSchema, markSchema } from '../marks/mark';

/** The longest take, and with it the longest breakdown, in milliseconds. */
export const MAX_BREAKDOWN_MS = 10 * 60 * 1000;

/** What the coach looked at: centre as fractions of the rendition, `zoom` 1 for the whole picture. */
export const lookSchema = z.object({
  x: z.number().min(-0.5).max(1.5),
  y: z.number().min(-0.5).max(1.5),
  zoom: z.number().min(0.2).max(40),
});
export type Look = z.infer<typeof lookSchema>;

const frame = z.int().nonnegative();
/** Milliseconds of the voice since the start of the take (or, joined, of the breakdown). */
const t = z.int().nonnegative().max(MAX_BREAKDOWN_MS);

/** A second clip held beside the first, and how strongly it lies over it (0: side by side). */
const besideSchema = z.object({ clipId: z.uuid(), frame, opacity: z.number().min(0).max(1) });

/** Everything that is seen at one moment. The first event of every take is one of these, at 0. */
export const sceneSchema = z.object({
  clipId: z.uuid(),
  frame,
  speed: z.number().min(0.01).max(8),
  isPlaying: z.boolean(),
  look: lookSchema,
  checkpoint: z.enum(CHECKPOINTS).nullable(),
  itemId: z.string().max(48).nullable(),
  /** Every mark there is, of all clips; hidden ones included. Those of the shown frame are seen. */
  marks: z.array(markSchema).max(400),
  isChalkShown: z.boolean(),
  /** Where the coach points, null when the hand is away. */
  pointer: framePointSchema.nullable(),
  beside: besideSchema.nullable(),
  /** A written sentence laid under the picture, for breakdowns without voice. */
  caption: z.string().max(200),
});
export type Scene = z.infer<typeof sceneSchema>;

/**
 * What happened, when. Version 1. An event changes one thing of the scene; `mark` puts a mark in place of the one with
 * its id (a mark growing under the hand is sent whole at most 30 times a second, a free hand line by `grow`, which
 * appends points).
 */
export const eventSchema = z.discriminatedUnion('kind', [
  z.object({ t, kind: z.literal('scene'), scene: sceneSchema }),
  z.object({ t, kind: z.literal('frame'), clipId: z.uuid(), frame }),
  z.object({ t, kind: z.literal('play'), isPlaying: z.boolean(), speed: z.number().min(0.01).max(8) }),
  z.object({ t, kind: z.literal('look'), look: lookSchema }),
  z.object({
    t,
    kind: z.literal('choose'),
    checkpoint: z.enum(CHECKPOINTS).nullable(),
    itemId: z.string().max(48).nullable(),
  }),
  z.object({ t, kind: z.literal('mark'), mark: markSchema }),
  z.object({
    t,
    kind: z.literal('grow'),
    id: z.uuid(),
    points: z.array(framePointSchema).min(1).max(2000),
  }),
  z.object({ t, kind: z.literal('rub'), ids: z.array(z.uuid()).min(1).max(400) }),
  z.object({ t, kind: z.literal('chalk'), isShown: z.boolean() }),
  z.object({ t, kind: z.literal('point'), at: framePointSchema.nullable() }),
  z.object({ t, kind: z.literal('beside'), beside: besideSchema.nullable() }),
  z.object({ t, kind: z.literal('caption'), text: z.string().max(200) }),
]);
export type BreakdownEvent = z.infer<typeof eventSchema>;
