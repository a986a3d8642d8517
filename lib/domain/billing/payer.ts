import type { Day } from '../people/age';
import { isMinor, type PlayerFacts } from '../people/safeguarding';

/** Whom a lesson is charged to is asked with these: the sender, the player, and the player's verified guardians. */
export interface PayerFacts<Id extends string> {
  senderId: Id;
  player: PlayerFacts & { id: Id };
  /** Verified ones, the longest standing first. */
  guardianIds: readonly Id[];
}

/**
 * Who pays for a lesson: whoever sends it, unless that is a minor player, whose first verified guardian pays. A minor
 * without one carries the charge until a guardian stands there (no charge is lost, and nobody else is made to pay).
 */
export function payerOf<Id extends string>(
  { senderId, player, guardianIds }: PayerFacts<Id>,
  today: Day,
): Id {
  if (senderId !== player.id || !isMinor(player, today)) return senderId;
  return guardianIds[0] ?? senderId;
}
