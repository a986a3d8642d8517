import * as z from 'zod';
import { preparedSchema } from '@/lib/domain/clips/prepared';

// What the engine's child process and its owner say to each other. The child reads files of strangers, so what it
// answers is parsed like any other input.

export const jobSchema = z.object({
  job: z.int(),
  original: z.string(),
  folder: z.string(),
  declaredType: z.string(),
  knownRate: z.number().positive().nullable(),
  maxBytes: z.number().positive(),
  maxSeconds: z.number().positive(),
});
export type JobMessage = z.infer<typeof jobSchema>;

/**
 * How the search for location data ended (`wiped`: the file of that name in the job's folder has none), and the capture
 * rate that the phone wrote, which is wiped with the rest.
 */
export const originalSchema = z.discriminatedUnion('original', [
  z.object({ original: z.literal('clean'), taggedRate: z.number().positive().nullable() }),
  z.object({ original: z.literal('aside'), taggedRate: z.number().positive().nullable() }),
  z.object({
    original: z.literal('wiped'),
    taggedRate: z.number().positive().nullable(),
    wipedFile: z.literal('original-wiped'),
    md5: z.string(),
  }),
]);
export type OriginalFacts = z.infer<typeof originalSchema>;

export const answerSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('ready') }),
  z.object({ kind: z.literal('alive'), job: z.int(), percent: z.int().min(0).max(100) }),
  z.object({ kind: z.literal('original'), job: z.int(), facts: originalSchema }),
  z.object({ kind: z.literal('done'), job: z.int(), prepared: preparedSchema }),
]);
export type AnswerMessage = z.infer<typeof answerSchema>;
