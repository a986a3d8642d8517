import { standingTogether, type ConsentTerms } from '../consents/consent';
import { ageOn, isDay, type Day } from './age';

/** Below this age nobody holds a login of their own: a guardian keeps the profile (16 CFR 312.2: "child" is under 13). */
export const LOGIN_AGE = 13;
/** From this age on a person speaks for themselves, and no guardian has to stand on the thread. */
export const ADULT_AGE = 18;
/** Which text a guardian agreed to; raised whenever the words of `CONSENT_TEXT` change. */
export const CONSENT_VERSION = '2026-11';
/** What a guardian agrees to, word for word. Kept with its version beside each consent. */
export const CONSENT_TEXT =
  'I am 18 or older and the parent or legal guardian of this player. The program may keep their name, birth date, ' +
  'swing clips and lessons to coach them. I see everything they see, I can pause contact at any time, and I can ask ' +
  'for all of it to be deleted.';

/** How a guardian came to stand beside a player. `named-by-player` counts only once a lead has confirmed it. */
export const CONSENT_METHODS = ['added-child', 'program-invitation', 'named-by-player'] as const;
export type ConsentMethod = (typeof CONSENT_METHODS)[number];

export interface PlayerFacts {
  /** null when nobody has told it: then the rules for minors hold. */
  readonly birthDate: Day | null;
}
export interface GuardianshipFacts {
  readonly isVerified: boolean;
  readonly isPaused: boolean;
  /** This guardian's latest consent to lessons in the program; null without one. */
  readonly consent: ConsentTerms | null;
}

/** True below 18, and for anybody whose birth date is unknown. */
export const isMinor = (player: PlayerFacts, today: Day): boolean =>
  player.birthDate === null || ageOn(player.birthDate, today) < ADULT_AGE;

/** The day such that exactly those born after it are minors on `today`. For queries; `isMinor` says the same of one. */
export const minorsAreBornAfter = (today: Day): Day => {
  const day = `${Number(today.slice(0, 4)) - ADULT_AGE}${today.slice(4)}`;
  return (isDay(day) ? day : `${day.slice(0, 4)}-02-28`) as Day;
};

/** True from 13 on; false for an unknown birth date. */
export const mayHaveLogin = (player: PlayerFacts, today: Day): boolean =>
  player.birthDate !== null && ageOn(player.birthDate, today) >= LOGIN_AGE;

export type StaffContact = 'open' | 'no-guardian' | 'paused' | 'withdrawn' | 'no-consent';

/**
 * Whether adults of the program may write to a player, and if not, why. Electronic contact between an adult and a
 * minor athlete has to include another adult (U.S. Center for SafeSport, "How to safely communicate with minor
 * athletes"); a guardian may ask that it stop. One guardian's pause counts for all of them, and so does a consent to
 * lessons that one took back; a consent that ran out closes the thread until it is given again.
 */
export const staffContact = (
  player: PlayerFacts,
  guardianships: readonly GuardianshipFacts[],
  today: Day,
): StaffContact => {
  if (!isMinor(player, today)) return 'open';
  if (!guardianships.some((one) => one.isVerified)) return 'no-guardian';
  if (guardianships.some((one) => one.isPaused)) return 'paused';
  const verified = guardianships.filter((one) => one.isVerified);
  const consent = standingTogether(
    verified.map((one) => one.consent),
    today,
  );
  if (consent === 'withdrawn') return 'withdrawn';
  return consent === 'given' ? 'open' : 'no-consent';
};

/** True when adults of the program may write to the player: see `staffContact`. */
export const canStaffWrite = (
  player: PlayerFacts,
  guardianships: readonly GuardianshipFacts[],
  today: Day,
): boolean => staffContact(player, guardianships, today) === 'open';

/** What staff read where writing is closed, in words that name the way out. */
export const CONTACT_REASON = {
  'no-guardian': 'No guardian yet. Invite a parent or guardian; you can write once they stand on the thread.',
  paused: 'A guardian has paused contact. Nothing can be sent to this player until they take the pause back.',
  withdrawn:
    'A guardian has taken back their consent to lessons. Nothing can be sent until they give it again.',
  'no-consent': 'The consent to lessons has run out. A guardian can give it again on their account page.',
} as const satisfies Record<Exclude<StaffContact, 'open'>, string>;
