import { dayOfDate, type Day } from '../people/age';

/** What can be agreed to: `lessons` carries a minor's lessons, the others are choices that are off until given. */
export const SCOPES = ['lessons', 'share', 'example', 'training', 'third-party'] as const;
export type Scope = (typeof SCOPES)[number];
export const CHOICES = ['share', 'example', 'training', 'third-party'] as const;
export type Choice = (typeof CHOICES)[number];

/** Which words of `CHOICE_WORDS` were agreed to; raised whenever they change. */
export const CHOICE_VERSION = '2026-11';

/** Each choice in a few words and in whole. Separate from one another, and none is needed for lessons. */
export const CHOICE_WORDS = {
  share: {
    title: 'Show clips in public',
    text: 'The program may show swing clips of this player where anybody can see them.',
  },
  example: {
    title: 'Use as an example for others',
    text: 'The program may show swings and breakdowns of this player to other players as an example.',
  },
  training: {
    title: 'Train software with it',
    text: 'Clips, voices and marks of this player may be used to train software that learns from them.',
  },
  'third-party': {
    title: 'Give it to others',
    text: 'The program may give clips and lessons of this player to people or companies outside of it.',
  },
} as const satisfies Record<Choice, { title: string; text: string }>;

/** How a consent was given. */
export const CHOICE_METHOD = 'account-page';

/** What decides whether a consent stands: its end, and whether it was taken back. */
export interface ConsentTerms {
  readonly expiresAt: Date | null;
  readonly withdrawnAt: Date | null;
}
export type Standing = 'none' | 'given' | 'lapsed' | 'withdrawn';

/** A consent holds for a year: the same day of the next year, UTC; of 29 February until 1 March. */
export const consentEnds = (givenAt: Date): Date => {
  const end = new Date(givenAt);
  end.setUTCFullYear(end.getUTCFullYear() + 1);
  return end;
};

/** How the latest consent of one person stands on a day. It holds up to the day before the one on which it ends. */
export const standingOf = (latest: ConsentTerms | null, today: Day): Standing => {
  if (!latest) return 'none';
  if (latest.withdrawnAt) return 'withdrawn';
  return latest.expiresAt && dayOfDate(latest.expiresAt) <= today ? 'lapsed' : 'given';
};

/**
 * Several people's latest consents to one thing, taken together: one who took it back counts for all of them, else one
 * that stands is enough.
 */
export const standingTogether = (latest: readonly (ConsentTerms | null)[], today: Day): Standing => {
  const all = latest.map((one) => standingOf(one, today));
  for (const standing of ['withdrawn', 'given', 'lapsed'] as const)
    if (all.includes(standing)) return standing;
  return 'none';
};

/** One record as it is kept. */
export interface ConsentRecord extends ConsentTerms {
  readonly byId: string;
  readonly scope: string;
  readonly version: string;
  readonly method: string;
  readonly givenAt: Date;
}

/** The latest record of each of these people to one scope; null for who has none. */
export const latestOf = (
  records: readonly ConsentRecord[],
  scope: Scope,
  people: readonly string[],
): (ConsentRecord | null)[] =>
  people.map((byId) =>
    records
      .filter((one) => one.scope === scope && one.byId === byId)
      .reduce<ConsentRecord | null>(
        (best, one) => (best === null || one.givenAt >= best.givenAt ? one : best),
        null,
      ),
  );
