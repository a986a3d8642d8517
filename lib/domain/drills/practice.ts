import * as z from 'zod';
import { dateOfDay, dayOfDate, daySchema, type Day } from '../people/age';

/** What a player says of one practice. A place belongs to pain, and nothing is chosen beforehand. */
export const checkInSchema = z
  .object({
    day: daySchema,
    setsDone: z.int().min(0).max(20, 'Twenty sets at most.'),
    repsDone: z.int().min(0).max(600, 'Six hundred swings at most.'),
    feel: z.int().min(1).max(5).nullable(),
    note: z.string().trim().max(500, 'Five hundred letters at most.'),
    painLevel: z.int('Say whether anything hurt.').min(0).max(10),
    painWhere: z.string().trim().max(120).nullable(),
  })
  .refine((said) => said.painLevel === 0 || Boolean(said.painWhere), {
    message: 'Say where it hurt.',
    path: ['painWhere'],
  });
export type CheckInWords = z.infer<typeof checkInSchema>;

export const FEEL_WORD = ['rough', 'so-so', 'all right', 'good', 'great'] as const;

/** Any pain pauses practice: how much is safe is not for a program to say. */
export const isPainful = (said: { painLevel: number }): boolean => said.painLevel > 0;

/** What everybody on the player's side reads while practice is paused for pain. Never a way back: that is a clinician's. */
export const PAIN_WORDS =
  'Practice is paused because pain was reported. Do not swing. See a clinician; for pain that is strong, sudden or ' +
  'comes with swelling or numbness, go today. Your coach opens practice again once you or a guardian say that a ' +
  'clinician cleared it.';

/** Raised whenever the words of `SAFETY_LINES` change; it is then confirmed anew. */
export const SAFETY_VERSION = 1;
/** What is confirmed before the first practice. Three metres: arm, bat and step with a margin, our own reckoning. */
export const SAFETY_LINES = [
  'About 3 metres clear on every side; no person, pet or window inside.',
  'A net that stands firmly, wherever a ball is hit.',
  'A helmet for any ball that moves.',
] as const;
/** The line more for players under 13. */
export const ADULT_LINE = 'An adult is present the whole time.';

export interface FollowUpFacts {
  swingBy: Day | null;
  endedAt: Date | null;
  hasSwing: boolean;
  isPaused: boolean;
}
export type FollowUp = 'none' | 'wanted' | 'overdue' | 'came';

/** Where an asked-for swing stands. Nothing is wanted while practice is paused; the day itself is still in time. */
export const followUpOf = (one: FollowUpFacts, today: Day): FollowUp => {
  if (one.swingBy === null) return 'none';
  if (one.hasSwing) return 'came';
  if (one.endedAt !== null || one.isPaused) return 'none';
  return today > one.swingBy ? 'overdue' : 'wanted';
};

/**
 * The days of the last seven (`today` the last) on which somebody practised, of those asked for in a week. Days are
 * counted once; `done` may exceed `asked`.
 */
export const weekOf = (
  one: { dose: { daysAWeek: number }; checkIns: readonly { day: Day; repsDone: number }[] },
  today: Day,
): { done: number; asked: number } => {
  const from = dayOfDate(new Date(dateOfDay(today).getTime() - 6 * 86_400_000));
  const days = one.checkIns.filter(({ day, repsDone }) => repsDone > 0 && day >= from && day <= today);
  return { done: new Set(days.map(({ day }) => day)).size, asked: one.dose.daysAWeek };
};
