import * as z from 'zod';

/** A reply as its writer sends it; the id is minted by the browser so that a repeat is the same reply. */
export const replySchema = z.object({
  id: z.uuid(),
  lessonId: z.uuid(),
  body: z.string().trim().min(1, 'Write something first.').max(2000, 'Keep it under 2,000 characters.'),
  /** A frame of one of the lesson's clips that the reply hangs on. */
  at: z.object({ clipId: z.uuid(), frame: z.int().nonnegative() }).nullable(),
  /** A moment of one of the lesson's breakdowns that the reply hangs on, in milliseconds of its voice. */
  moment: z.object({ breakdownId: z.uuid(), ms: z.int().nonnegative() }).nullable().optional(),
});
export type ReplyInput = z.infer<typeof replySchema>;
