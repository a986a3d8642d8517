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

/** How far the search for location data came, and the capture rate that the phone wrote (lost when it is wiped). */
export const originalSchema = z.object({
  original: z.enum(['clean', 'wiped', 'aside']),
  taggedRate: z.number().positive().nullable(),
});
export type OriginalFacts = z.infer<typeof originalSchema>;

export const answerSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('ready') }),
  z.object({ kind: z.literal('alive'), job: z.int(), percent: z.int().min(0).max(100) }),
  z.object({ kind: z.literal('original'), job: z.int(), facts: originalSchema }),
  z.object({ kind: z.literal('done'), job: z.int(), prepared: preparedSchema }),
]);
export type AnswerMessage = z.infer<typeof answerSchema>;

/** The name of the original without its location data in the folder of a job, when there was any. */
export const WIPED_FILE = 'original-wiped';
