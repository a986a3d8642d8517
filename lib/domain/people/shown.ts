import * as z from 'zod';

/** The audit's word for "somebody of the staff was shown something of a minor". */
export const SHOWN_ACTION = 'minor.shown';

/** What was shown: a thread, a lesson with its clips and breakdowns, a clip alone, a breakdown played. */
export const SHOWN = ['thread', 'lesson', 'clip', 'breakdown'] as const;
export type Shown = (typeof SHOWN)[number];

/** What an audit line of that kind carries beside the player. */
export const shownSchema = z.object({ what: z.enum(SHOWN), id: z.uuid() });

export const SHOWN_WORDS = {
  thread: 'Opened the lessons',
  lesson: 'Opened a lesson with its clips',
  clip: 'Played a clip',
  breakdown: 'Played a breakdown',
} as const satisfies Record<Shown, string>;
