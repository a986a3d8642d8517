import * as z from 'zod';

/**
 * A point of the picture as fractions of the review rendition's width and height: (0, 0) top left, (1, 1) bottom
 * right. Points may lie a little outside. Multiply by width and height before any angle is taken.
 */
export const framePointSchema = z.object({
  x: z.number().min(-0.5).max(1.5),
  y: z.number().min(-0.5).max(1.5),
});
export type FramePoint = z.infer<typeof framePointSchema>;

export const CHALKS = ['white', 'clay', 'sky'] as const;
export type Chalk = (typeof CHALKS)[number];

const base = {
  version: z.literal(1),
  id: z.uuid(),
  clipId: z.uuid(),
  /** First frame it is seen on, by display index. */
  frame: z.int().nonnegative(),
  /** How many frames it stays, 1 for that frame alone. */
  span: z.int().min(1).max(600),
  chalk: z.enum(CHALKS),
  /** The checklist item it explains, if any. */
  itemId: z.string().max(48).nullable(),
  hidden: z.boolean(),
};
const two = z.tuple([framePointSchema, framePointSchema]);

/** One drawing on one frame (or a short span) of one clip, version 1. Older or newer shapes go through `parseMark`. */
export const markSchema = z.discriminatedUnion('kind', [
  z.object({ ...base, kind: z.literal('line'), points: two }),
  z.object({ ...base, kind: z.literal('arrow'), points: two }), // tail, head
  z.object({ ...base, kind: z.literal('circle'), points: two }), // centre, a point on the edge (round on the picture)
  z.object({
    ...base,
    kind: z.literal('angle'),
    points: z.tuple([framePointSchema, framePointSchema, framePointSchema]),
  }), // arm, vertex, arm
  z.object({ ...base, kind: z.literal('freehand'), points: z.array(framePointSchema).min(1).max(2000) }),
  z.object({
    ...base,
    kind: z.literal('text'),
    points: z.tuple([framePointSchema]),
    text: z.string().min(1).max(80),
  }),
  z.object({ ...base, kind: z.literal('plumb'), points: two }), // top, bottom: the same x, a vertical of the picture
]);
export type Mark = z.infer<typeof markSchema>;
export type MarkKind = Mark['kind'];
