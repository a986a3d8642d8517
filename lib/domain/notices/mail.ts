import * as z from 'zod';

/**
 * Every mail the program sends, by kind, with the data its text needs. Never a child's clip, question or note:
 * a mail names the thing and links to it.
 */
export const mailDataSchema = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('invitation'),
    data: z.object({
      programName: z.string(),
      inviter: z.string(),
      role: z.string(),
      path: z.string(),
      days: z.number(),
    }),
  }),
  z.object({
    kind: z.literal('lesson-submitted'),
    data: z.object({
      programName: z.string(),
      playerName: z.string(),
      lessonNumber: z.number(),
      promise: z.string(),
      path: z.string(),
    }),
  }),
  z.object({
    kind: z.literal('lesson-returned'),
    data: z.object({
      programName: z.string(),
      playerName: z.string(),
      coachName: z.string(),
      lessonNumber: z.number(),
      path: z.string(),
    }),
  }),
  z.object({
    kind: z.literal('lesson-withdrawn'),
    data: z.object({
      programName: z.string(),
      playerName: z.string(),
      lessonNumber: z.number(),
      path: z.string(),
    }),
  }),
  z.object({
    kind: z.literal('reply'),
    data: z.object({
      programName: z.string(),
      playerName: z.string(),
      authorName: z.string(),
      lessonNumber: z.number(),
      path: z.string(),
    }),
  }),
  z.object({
    kind: z.literal('age-turned'),
    data: z.object({
      programName: z.string(),
      playerName: z.string(),
      age: z.union([z.literal(13), z.literal(18)]),
      path: z.string(),
    }),
  }),
  z.object({
    kind: z.literal('concern-raised'),
    data: z.object({ programName: z.string(), path: z.string() }),
  }),
  z.object({
    kind: z.literal('breakdown-given'),
    data: z.object({
      programName: z.string(),
      playerName: z.string(),
      coachName: z.string(),
      lessonNumber: z.number(),
      path: z.string(),
    }),
  }),
  z.object({
    kind: z.literal('captions-asked'),
    data: z.object({
      programName: z.string(),
      playerName: z.string(),
      authorName: z.string(),
      lessonNumber: z.number(),
      path: z.string(),
    }),
  }),
  z.object({
    kind: z.literal('pain-reported'),
    data: z.object({
      programName: z.string(),
      playerName: z.string(),
      lessonNumber: z.number(),
      path: z.string(),
    }),
  }),
  z.object({
    kind: z.literal('document-ready'),
    data: z.object({ programName: z.string(), documentName: z.string(), path: z.string() }),
  }),
  z.object({
    kind: z.literal('clip-failed'),
    data: z.object({ programName: z.string(), playerName: z.string(), reason: z.string(), path: z.string() }),
  }),
]);
export type MailBody = z.infer<typeof mailDataSchema>;

/** One mail to one address, not to leave before `notBefore`. `path` in its data is a path of this site, without the host. */
export type Mail = MailBody & { to: string; notBefore: Date };
