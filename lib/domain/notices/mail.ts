import * as z from 'zod';
import { noticeDataSchema } from './notice';

/** Mails that are no notice: the way in, the last one to somebody erased, and the day's notices in one. */
const otherMailSchema = z.discriminatedUnion('kind', [
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
  z.object({ kind: z.literal('erased'), data: z.object({ programName: z.string(), path: z.string() }) }),
  z.object({
    kind: z.literal('digest'),
    data: z.object({
      programName: z.string(),
      /** One sentence for each notice, oldest first. */
      lines: z.array(z.string()),
      /** How many more there are on the page. */
      more: z.number(),
      path: z.string(),
    }),
  }),
]);

/**
 * Every mail the program sends, by kind, with the data its text needs. Never a child's clip, question or note:
 * a mail names the thing and links to it.
 */
export const mailDataSchema = z.union([noticeDataSchema, otherMailSchema]);
export type MailBody = z.infer<typeof mailDataSchema>;

/** One mail to one address, not to leave before `notBefore`. `path` in its data is a path of this site, without the host. */
export type Mail = MailBody & {
  to: string;
  notBefore: Date;
  /** Of a notice: its own, so that both are one. */
  id?: string;
  /** Whose address it is, and the program it comes from; absent for somebody who is only invited. */
  personId?: string;
  programId?: string;
};
