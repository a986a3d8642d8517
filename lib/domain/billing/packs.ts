/** A pack as far as using it goes. */
export interface PackFacts {
  lessons: number;
  usedLessons: number;
  validUntil: Date;
}

export type PackRefusal = 'pack-empty' | 'pack-over' | 'pack-not-family';

/** Why a pack cannot be used, for people. */
export const PACK_REFUSALS = {
  'pack-empty':
    'That pack has no lesson left. Your answers are kept: choose another pack, or pay for this lesson.',
  'pack-over':
    'That pack is not valid any more. Your answers are kept: choose another pack, or pay for this lesson.',
  'pack-not-family': 'That pack is not for this player. Your answers are kept: choose another way to pay.',
} as const satisfies Record<PackRefusal, string>;

/** How many lessons are left; never below zero. */
export const packLeft = ({ lessons, usedLessons }: PackFacts): number => Math.max(0, lessons - usedLessons);

/**
 * Why a pack of the player's family cannot pay for a lesson at that moment, or null when it can; no pack is one of
 * another family. The last valid instant still counts.
 */
export function packRefusal(pack: PackFacts | null, now: Date): PackRefusal | null {
  if (!pack) return 'pack-not-family';
  if (now.getTime() > pack.validUntil.getTime()) return 'pack-over';
  return packLeft(pack) === 0 ? 'pack-empty' : null;
}

const DAY_MS = 86_400_000;

/** Until when a pack sold `at` is valid: so many days of 24 hours. */
export const validUntil = (at: Date, validDays: number): Date => new Date(at.getTime() + validDays * DAY_MS);

/** What is valid for as long when nobody says otherwise: a year (three coaching pages; common practice). */
export const USUAL_VALID_DAYS = 365;
