import { dayOfDate, type Day } from './age';

/** What a coach needs before working with minors: a background check and a training against abuse, both with an end. */
export const CLEARANCE_KINDS = ['background-check', 'abuse-prevention'] as const;
export type ClearanceKind = (typeof CLEARANCE_KINDS)[number];

export const CLEARANCE_WORD = {
  'background-check': 'Background check',
  'abuse-prevention': 'Training against abuse',
} as const satisfies Record<ClearanceKind, string>;

/** One check or training as a lead recorded it; days, the last one included. */
export interface ClearanceFacts {
  readonly kind: string;
  readonly issuedOn: Date;
  readonly expiresOn: Date;
  readonly revokedAt: Date | null;
}

const holds = (one: ClearanceFacts, today: Day): boolean =>
  one.revokedAt === null && dayOfDate(one.issuedOn) <= today && today <= dayOfDate(one.expiresOn);

/** The kinds of which none holds on that day. */
export const missingClearances = (clearances: readonly ClearanceFacts[], today: Day): ClearanceKind[] =>
  CLEARANCE_KINDS.filter((kind) => !clearances.some((one) => one.kind === kind && holds(one, today)));

/** True when somebody may work with minors on that day: every kind holds. */
export const isCleared = (clearances: readonly ClearanceFacts[], today: Day): boolean =>
  missingClearances(clearances, today).length === 0;

/** What staff without valid checks read wherever a minor's lesson is closed to them. */
export const CLEARANCE_REASON =
  'This player is a minor, and your background check or your training against abuse is missing or has run out. ' +
  'Ask a lead to record a new one.';
