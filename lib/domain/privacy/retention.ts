import { subDays } from 'date-fns';
import * as z from 'zod';

/** The classes of what is kept. A program sets the days of each between its bounds. */
export const RETENTION_CLASSES = [
  'originals',
  'drafts',
  'withdrawn',
  'takes',
  'films',
  'quiet-players',
  'drill-clips',
  'practice',
  'watching',
  'notices',
  'invitations',
  'shown',
  'safeguarding',
  'money',
] as const;
export type RetentionClass = (typeof RETENTION_CLASSES)[number];

/** What one class is: what goes, from when its days count, how many there are, and where the figure comes from. */
export interface RetentionFacts {
  title: string;
  /** What goes and what stays, in whole sentences. */
  goes: string;
  /** From when the days count. */
  from: string;
  days: number;
  min: number;
  max: number;
  why: string;
}

const PRACTICE = 'Common practice, no source.';
/** 16 CFR 312.10: personal information of a child is kept only as long as necessary, and not indefinitely. */
const NOT_FOREVER = 'Not without an end: 16 CFR 312.10 asks that of what is collected from children.';
const YEAR = 365;

/** Every class with its default. The bounds keep safety and books from being set away, and nothing from staying for ever. */
export const RETENTION: Readonly<Record<RetentionClass, RetentionFacts>> = {
  originals: {
    title: 'Original files',
    goes: 'The file as the phone sent it. The clip that you watch, with every frame, stays.',
    from: 'after the clip was ready',
    ...{ days: 90, min: 7, max: 2 * YEAR },
    why: `${PRACTICE} Lessons are given on the clip made of it; the original only helps to make it again.`,
  },
  drafts: {
    title: 'Swings that were never sent',
    goes: 'The clips and words of a swing that was begun and not sent.',
    from: 'after it was begun',
    ...{ days: 60, min: 14, max: YEAR },
    why: `${PRACTICE} Nobody but the sender has seen it.`,
  },
  withdrawn: {
    title: 'Lessons that were taken back',
    goes: 'The clips and breakdowns of a lesson that was withdrawn. That it was sent and taken back stays.',
    from: 'after it was taken back',
    ...{ days: 60, min: 7, max: YEAR },
    why: `${PRACTICE} Its sender no longer wants it.`,
  },
  takes: {
    title: 'Breakdowns that were never given',
    goes: 'The voice and drawings of a breakdown that was recorded and not given.',
    from: 'after it was begun',
    ...{ days: 90, min: 14, max: YEAR },
    why: `${PRACTICE} Only its coach has heard it.`,
  },
  films: {
    title: 'Films made for a download',
    goes: 'The film file of a breakdown. The breakdown itself stays, and a film can be made of it again.',
    from: 'after it was made',
    ...{ days: 7, min: 1, max: 90 },
    why: `${PRACTICE} Whoever asked for it has it by then.`,
  },
  'quiet-players': {
    title: 'Players who have left',
    goes: 'Clips and breakdowns of a player who sends nothing and writes nothing any more. What was said to fix first, the verdicts and the replies stay.',
    from: 'after the last lesson or reply',
    ...{ days: 2 * YEAR, min: 90, max: 5 * YEAR },
    why: `${NOT_FOREVER} The two years are common practice, no source: a player may come back for another season.`,
  },
  'drill-clips': {
    title: 'Clips of drills that are given no more',
    goes: 'The clip of a drill that was replaced or retired and that nobody practises any more, or one that never arrived. The drill’s words and drawing stay.',
    from: 'after the drill was retired and the last player who had it got another',
    ...{ days: 180, min: 7, max: 2 * YEAR },
    why: `${PRACTICE} A drill may come back next season; who is shown should not be shown for ever.`,
  },
  practice: {
    title: 'Reports of practice',
    goes: 'What a player reported after practice: how much, how it felt, pain and where.',
    from: 'after the report',
    ...{ days: 2 * YEAR, min: 90, max: 5 * YEAR },
    why: `${NOT_FOREVER} The two years are common practice, no source.`,
  },
  watching: {
    title: 'Who has read and watched',
    goes: 'When somebody opened a lesson, and how far they watched a breakdown.',
    from: 'after they last did',
    ...{ days: YEAR, min: 30, max: 3 * YEAR },
    why: `${PRACTICE} It serves the lesson while it is new.`,
  },
  notices: {
    title: 'Notices',
    goes: 'The list of notices, read or not.',
    from: 'after it was shown',
    ...{ days: 180, min: 30, max: 2 * YEAR },
    why: `${PRACTICE} What a notice is about stands on its own page.`,
  },
  invitations: {
    title: 'Invitations',
    goes: 'Names and addresses of people who were invited, whether they came or not.',
    from: 'after the invitation ended',
    ...{ days: 90, min: 7, max: YEAR },
    why: `${PRACTICE} Whoever came has an account of their own.`,
  },
  shown: {
    title: 'Who saw what of a minor',
    goes: 'The lines that say which coach opened what of a player under 18.',
    from: 'after it was opened',
    ...{ days: 10 * YEAR, min: 3 * YEAR, max: 30 * YEAR },
    why: `${PRACTICE} It has to be there when a grown player asks about their childhood; your governing body may ask for longer.`,
  },
  safeguarding: {
    title: 'Concerns, consents and checks that have ended',
    goes: 'Closed concerns with their words; consents and coaches’ checks after they ended.',
    from: 'after it was closed or ended',
    ...{ days: 10 * YEAR, min: 7 * YEAR, max: 50 * YEAR },
    why: `${PRACTICE} They prove how the program looked after its players, so they cannot be set short.`,
  },
  money: {
    title: 'Bills and payments',
    goes: 'The payer’s name on invoices, receipts and credit notes, and the reasons in the ledger. Numbers and amounts stay.',
    from: 'after it was made',
    ...{ days: 10 * YEAR, min: 7 * YEAR, max: 30 * YEAR },
    why: `${PRACTICE} Laws on books often ask for six to ten years; yours says how long.`,
  },
};

/** What is deleted at the same time everywhere, since it belongs to no program. Days, counted as said. */
export const FIXED_DEADLINES = {
  'mails-sent': { days: 90, title: 'Addresses of mails that were sent' },
  'sign-in': {
    days: 1,
    title: 'Used sign-in links, ended sessions and counts of tries, once they mean nothing',
  },
  'everything-files': { days: 1, title: 'Files with everything about somebody' },
} as const;
export type FixedDeadline = keyof typeof FIXED_DEADLINES;

/** The days of each class, as a program has them. */
export type Deadlines = Readonly<Record<RetentionClass, number>>;

/** The days of each class where a program has chosen nothing. */
export const DEFAULT_DEADLINES = Object.fromEntries(
  RETENTION_CLASSES.map((name) => [name, RETENTION[name].days]),
) as Deadlines;

const daysOf = (name: RetentionClass) => {
  const { min, max, title } = RETENTION[name];
  return z
    .int(`${title}: write whole days.`)
    .min(min, `${title}: at least ${min} days.`)
    .max(max, `${title}: at most ${max} days.`);
};

/** What a program may choose: whole days of each class, between its bounds. A sentence for each that does not fit. */
export const deadlinesSchema = z.object(
  Object.fromEntries(RETENTION_CLASSES.map((name) => [name, daysOf(name)])) as Record<
    RetentionClass,
    ReturnType<typeof daysOf>
  >,
);

/**
 * The deadlines that hold, from what is stored: a class that was not chosen, or whose stored days no longer fit its
 * bounds, has its default. `null` is all defaults.
 */
export function deadlinesOf(stored: unknown): Deadlines {
  const chosen = z.record(z.string(), z.unknown()).safeParse(stored).data ?? {};
  return Object.fromEntries(
    RETENTION_CLASSES.map((name) => [
      name,
      daysOf(name).safeParse(chosen[name]).data ?? RETENTION[name].days,
    ]),
  ) as Deadlines;
}

/** What happened before this instant is due: `days` whole days (of 24 hours) before `now`. */
export const dueBefore = (now: Date, days: number): Date => subDays(now, days);

/** Days in words: "90 days", "2 years". */
export const daysInWords = (days: number): string => {
  if (days % YEAR !== 0) return days === 1 ? '1 day' : `${days} days`;
  const years = days / YEAR;
  return years === 1 ? '1 year' : `${years} years`;
};

/** What a night's journal counts: a class, a fixed deadline, or files found without a row. */
export const COUNTED = [
  ...RETENTION_CLASSES,
  ...(Object.keys(FIXED_DEADLINES) as FixedDeadline[]),
  'erased',
  'strays',
] as const;
export type Counted = (typeof COUNTED)[number];
export type Counts = Partial<Record<Counted, number>>;

const countsSchema = z.record(z.string(), z.int().min(0));

/** A journal's counts, added up. What is stored is parsed; unknown names are left out. */
export function addCounts(stored: unknown, more: Counts): Counts {
  const known = countsSchema.safeParse(stored).data ?? {};
  const sums = COUNTED.map((name) => [name, (known[name] ?? 0) + (more[name] ?? 0)] as const);
  return Object.fromEntries(sums.filter(([, count]) => count > 0));
}

const COUNTED_WORDS: Readonly<Record<Counted, string>> = {
  ...(Object.fromEntries(RETENTION_CLASSES.map((name) => [name, RETENTION[name].title])) as Record<
    RetentionClass,
    string
  >),
  'mails-sent': FIXED_DEADLINES['mails-sent'].title,
  'sign-in': FIXED_DEADLINES['sign-in'].title,
  'everything-files': FIXED_DEADLINES['everything-files'].title,
  erased: 'People erased',
  strays: 'Files that belonged to nothing',
};

/** A journal's counts as lines to read: what, and how many, in the order of the classes. */
export const countLines = (counts: unknown): { title: string; count: number }[] =>
  Object.entries(addCounts(counts, {})).map(([name, count]) => ({
    title: COUNTED_WORDS[name as Counted],
    count: count,
  }));
