import * as z from 'zod';
import { daySchema } from '../people/age';
import { SCOPES } from '../consents/consent';

const program = { programName: z.string(), path: z.string() };
const lesson = { ...program, playerName: z.string(), lessonNumber: z.number() };
const swing = { ...lesson, swingBy: daySchema };

/**
 * Everything that people are told of, by kind, with what its words need. `path` is a path of this site, without the
 * host. Never a child's clip, question, note or measure: a notice names the thing and links to it.
 */
export const noticeDataSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('lesson-submitted'), data: z.object({ ...lesson, promise: z.string() }) }),
  z.object({ kind: z.literal('lesson-taken'), data: z.object({ ...lesson, coachName: z.string() }) }),
  z.object({ kind: z.literal('lesson-given'), data: z.object({ ...lesson, byName: z.string() }) }),
  z.object({ kind: z.literal('promise-moved'), data: z.object(lesson) }),
  z.object({ kind: z.literal('lesson-returned'), data: z.object({ ...lesson, coachName: z.string() }) }),
  z.object({ kind: z.literal('lesson-withdrawn'), data: z.object(lesson) }),
  z.object({ kind: z.literal('reply'), data: z.object({ ...lesson, authorName: z.string() }) }),
  z.object({ kind: z.literal('breakdown-given'), data: z.object({ ...lesson, coachName: z.string() }) }),
  z.object({ kind: z.literal('captions-asked'), data: z.object({ ...lesson, authorName: z.string() }) }),
  z.object({
    kind: z.literal('clip-failed'),
    data: z.object({ ...program, playerName: z.string(), reason: z.string() }),
  }),
  z.object({
    kind: z.literal('drill-clip-failed'),
    data: z.object({ ...program, drillTitle: z.string(), reason: z.string() }),
  }),
  z.object({ kind: z.literal('swing-asked'), data: z.object(swing) }),
  z.object({ kind: z.literal('swing-overdue'), data: z.object(swing) }),
  z.object({ kind: z.literal('promise-near'), data: z.object(lesson) }),
  z.object({ kind: z.literal('promise-missed'), data: z.object(lesson) }),
  z.object({
    kind: z.literal('payment-due'),
    data: z.object({ ...program, dueOn: daySchema, isLate: z.boolean() }),
  }),
  z.object({
    kind: z.literal('document-ready'),
    data: z.object({ ...program, documentName: z.string() }),
  }),
  z.object({
    kind: z.literal('consent-expiring'),
    data: z.object({ ...program, playerName: z.string(), scope: z.enum(SCOPES), endsOn: daySchema }),
  }),
  z.object({ kind: z.literal('pain-reported'), data: z.object(lesson) }),
  z.object({ kind: z.literal('contact-paused'), data: z.object({ ...program, playerName: z.string() }) }),
  z.object({
    kind: z.literal('erasure-asked'),
    data: z.object({ ...program, personName: z.string(), on: daySchema }),
  }),
  z.object({ kind: z.literal('erasure-cancelled'), data: z.object({ ...program, personName: z.string() }) }),
  z.object({ kind: z.literal('copy-ready'), data: z.object({ ...program, personName: z.string() }) }),
  z.object({ kind: z.literal('concern-raised'), data: z.object(program) }),
  z.object({
    kind: z.literal('age-turned'),
    data: z.object({
      ...program,
      playerName: z.string(),
      age: z.union([z.literal(13), z.literal(18)]),
    }),
  }),
]);
export type NoticeBody = z.infer<typeof noticeDataSchema>;
export type NoticeKind = NoticeBody['kind'];

/** How somebody hears of a kind by mail. In the list of notices everything stands whatever was chosen. */
export const MAIL_CHOICES = ['at-once', 'daily', 'off'] as const;
export type MailChoice = (typeof MAIL_CHOICES)[number];

export const MAIL_CHOICE_WORD = {
  'at-once': 'At once',
  daily: 'Once a day, at 8 in the morning',
  off: 'Not by mail',
} as const satisfies Record<MailChoice, string>;

interface KindFacts {
  /** As the page of choices names it. */
  title: string;
  /** Who is told of it. */
  for: 'player' | 'staff' | 'both' | 'lead';
  /** How it goes by mail until somebody chooses; `always` cannot be chosen away. */
  mail: MailChoice | 'always';
}

/**
 * The kinds in the order of the page of choices. What keeps somebody from harm or loss always goes by mail at once:
 * pain, a pause, a concern, an erasure, and what changes on a birthday.
 */
export const NOTICE_KINDS = {
  'lesson-submitted': { title: 'A lesson is sent', for: 'both', mail: 'at-once' },
  'lesson-taken': { title: 'A coach has begun on a lesson', for: 'player', mail: 'off' },
  'lesson-given': { title: 'A lesson was handed to you', for: 'staff', mail: 'at-once' },
  'promise-moved': { title: 'A promised time was moved', for: 'player', mail: 'at-once' },
  'lesson-returned': { title: 'A lesson is back', for: 'player', mail: 'at-once' },
  'lesson-withdrawn': { title: 'A lesson was withdrawn', for: 'both', mail: 'at-once' },
  reply: { title: 'Somebody wrote on a lesson', for: 'both', mail: 'at-once' },
  'breakdown-given': { title: 'Another breakdown for a lesson', for: 'player', mail: 'at-once' },
  'captions-asked': { title: 'Somebody asks for captions', for: 'staff', mail: 'at-once' },
  'clip-failed': { title: 'A clip needs another try', for: 'player', mail: 'at-once' },
  'drill-clip-failed': { title: 'The clip of a drill needs another try', for: 'staff', mail: 'at-once' },
  'swing-asked': { title: 'A next swing is asked for', for: 'player', mail: 'off' },
  'swing-overdue': { title: 'The day for a next swing has passed', for: 'both', mail: 'daily' },
  'promise-near': { title: 'A promised time is near', for: 'staff', mail: 'at-once' },
  'promise-missed': { title: 'A promised time has passed', for: 'both', mail: 'at-once' },
  'payment-due': { title: 'A payment is due', for: 'player', mail: 'at-once' },
  'document-ready': { title: 'An invoice or a receipt', for: 'player', mail: 'at-once' },
  'consent-expiring': { title: 'A consent runs out', for: 'both', mail: 'at-once' },
  'copy-ready': { title: 'A copy of everything is ready', for: 'both', mail: 'at-once' },
  'pain-reported': { title: 'Pain was reported', for: 'both', mail: 'always' },
  'contact-paused': { title: 'A guardian paused contact', for: 'both', mail: 'always' },
  'concern-raised': { title: 'A concern was raised', for: 'lead', mail: 'always' },
  'erasure-asked': { title: 'Somebody asked to be erased', for: 'both', mail: 'always' },
  'erasure-cancelled': { title: 'An erasure was taken back', for: 'both', mail: 'always' },
  'age-turned': { title: 'A player turned 13 or 18', for: 'both', mail: 'always' },
} as const satisfies Record<NoticeKind, KindFacts>;

/** All kinds, in the order of the page of choices. */
export const noticeKinds = Object.keys(NOTICE_KINDS) as NoticeKind[];

/** Kinds whose mail can be chosen: all but those that keep somebody from harm. */
export const isChoosable = (kind: NoticeKind): boolean => NOTICE_KINDS[kind].mail !== 'always';

/** How a kind goes by mail to somebody who chose `chosen`, or nothing yet. */
export const mailFor = (kind: NoticeKind, chosen: MailChoice | null | undefined): MailChoice => {
  const { mail } = NOTICE_KINDS[kind];
  return mail === 'always' ? 'at-once' : (chosen ?? mail);
};

/** The kinds that somebody with these roles can be told of. */
export const kindsFor = (roles: readonly string[]): NoticeKind[] => {
  const isPlayers = roles.includes('player') || roles.includes('guardian');
  const isStaff = roles.includes('coach') || roles.includes('lead');
  return noticeKinds.filter((kind) => {
    const to = NOTICE_KINDS[kind].for;
    if (to === 'lead') return roles.includes('lead');
    return to === 'both' ? isPlayers || isStaff : to === 'player' ? isPlayers : isStaff;
  });
};
