import * as z from 'zod';
import { CLIP_FAULTS } from './clip';

/** The files that preparing makes of an original, by their names under `clips/<clipId>/`. */
export const DERIVED_FILES = ['review.mp4', 'frames.json', 'poster.jpg', 'strip.jpg', 'strip.json'] as const;

/** What is known of a clip once it is prepared. Sizes and counts are those of the review rendition. */
export const preparedFactsSchema = z.object({
  width: z.int().positive(),
  height: z.int().positive(),
  frameCount: z.int().positive(),
  /** From the first picture to the end of the last one, in microseconds. */
  durationUs: z.int().nonnegative(),
  /** Pictures a second as the file plays them (median). */
  fileRate: z.number().positive().nullable(),
  captureRate: z.number().positive().nullable(),
  /** True when the phone wrote the capture rate into the file. */
  rateIsSure: z.boolean(),
  /** False when there was no sound, or none that could be read: that never fails a clip. */
  hasSound: z.boolean(),
  /**
   * The original after the search for location data: `clean` had none, `wiped` was written anew without it,
   * `aside` could not be searched and must never be given out.
   */
  original: z.enum(['clean', 'wiped', 'aside']),
});
export type PreparedFacts = z.infer<typeof preparedFactsSchema>;

/** How preparing ended. A fault carries a detail for the log, never for people. */
export const preparedSchema = z.discriminatedUnion('ok', [
  z.object({ ok: z.literal(true), facts: preparedFactsSchema }),
  z.object({ ok: z.literal(false), fault: z.enum(CLIP_FAULTS), detail: z.string() }),
]);
export type Prepared = z.infer<typeof preparedSchema>;
