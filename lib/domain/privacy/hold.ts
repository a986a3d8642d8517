import * as z from 'zod';

/** Why a hold was placed: kept with it, read by leads only. */
export const holdReasonSchema = z
  .string()
  .trim()
  .min(5, 'Say in a few words why, so that whoever ends it knows.')
  .max(500, 'Keep it under 500 characters.');

/** A legal hold on a player, as leads see it. `endedAt` null while it stands. */
export interface HoldFacts {
  id: string;
  reason: string;
  byName: string;
  at: Date;
  endedAt: Date | null;
  endedByName: string | null;
}

/** What everybody concerned reads while a hold stands. The reason is for leads only. */
export const HELD_WORDS =
  'A legal hold stands on this player. Until a lead ends it, nothing is deleted or erased; an erasure that was asked for waits.';
