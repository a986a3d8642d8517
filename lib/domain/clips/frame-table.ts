import * as z from 'zod';

/**
 * The frames of a review rendition in display order: their presentation timestamps in integer microseconds,
 * strictly rising, first frame at 0 or later. Made once when the clip is prepared; the player, marks, pins and
 * replies address frames by index into it. Rates are pictures a second; `captureRate` is how the camera took
 * them (a phone's slow motion plays slower than it was taken), null when unknown.
 */
export const frameTableSchema = z.object({
  version: z.literal(1),
  width: z.int().positive(),
  height: z.int().positive(),
  ptsUs: z.array(z.int().nonnegative()).min(1),
  fileRate: z.number().positive().nullable(),
  captureRate: z.number().positive().nullable(),
});
export type FrameTable = z.infer<typeof frameTableSchema>;
