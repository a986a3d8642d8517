import { addDays } from 'date-fns';
import type { Role } from '../people/viewer';

/** So long an erasure can be taken back. Common practice, no source. */
export const GRACE_DAYS = 30;

/** The instant from which an erasure that is asked for now may be done. */
export const erasureDue = (askedAt: Date): Date => addDays(askedAt, GRACE_DAYS);

/** What stands in the place of a reply whose writer was erased. */
export const ERASED_REPLY = 'Erased: whoever wrote this asked for it.';

/** A request as it stands. */
export interface ErasureFacts {
  dueAt: Date;
  cancelledAt: Date | null;
  doneAt: Date | null;
}

/** `waiting`: can be taken back; `due`: is done in the coming night; then `done` or `cancelled`. */
export type ErasureState = 'waiting' | 'due' | 'done' | 'cancelled';

/** How a request stands at `now`. */
export const erasureState = ({ dueAt, cancelledAt, doneAt }: ErasureFacts, now: Date): ErasureState => {
  if (doneAt) return 'done';
  if (cancelledAt) return 'cancelled';
  return dueAt <= now ? 'due' : 'waiting';
};

/** Who is asking about whom: what decides who may speak for a person. */
export interface Asking {
  /** It is about the asker. */
  isSelf: boolean;
  /** The asker is a verified guardian of the person. */
  isGuardian: boolean;
  /** The asker is a lead of the person's program. */
  isLead: boolean;
  /** The person is a player there. */
  isPlayer: boolean;
  /** The person is below 18, or nobody told the birth date. */
  isMinor: boolean;
}

/**
 * Whether somebody may take a copy of everything about a person, or have it erased: grown people for themselves,
 * verified guardians for their child, leads for players of their program. A minor does not alone: for them a guardian
 * or the program speaks. Who only coaches or guards is grown, whether the birth date is known or not.
 */
export const maySpeakFor = ({ isSelf, isGuardian, isLead, isPlayer, isMinor }: Asking): boolean => {
  if (isPlayer && isMinor) return isGuardian || (isLead && !isSelf);
  return isSelf || (isLead && isPlayer);
};

/** What an erased person is called where they still stand: by what they were in the program. */
export const formerName = (roles: readonly Role[]): string => {
  if (roles.includes('coach') || roles.includes('lead')) return 'A former coach';
  return roles.includes('player') ? 'A former player' : 'A former guardian';
};

/** The payer's name on documents after erasure or at the end of their deadline. */
export const formerPayer = (pseudonym: string | null): string =>
  pseudonym === null ? 'A former payer' : `A former payer (${pseudonym})`;

const LETTERS = '23456789ABCDEFGHJKLMNPQRSTVWXYZ';

/**
 * A stand-in of ten letters and digits from random bytes (at least ten; some 49 bits): it says nothing of the person,
 * and the same person keeps one. Letters that are taken for another are left out.
 */
export const pseudonymFrom = (bytes: Uint8Array): string => {
  if (bytes.length < 10) throw new RangeError('A stand-in needs ten random bytes.');
  return [...bytes.slice(0, 10)].map((byte) => LETTERS[byte % LETTERS.length]).join('');
};
