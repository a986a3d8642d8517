import * as z from 'zod';
import { CLIP_FAULTS } from '@/lib/domain/clips/clip';
import { preparedFactsSchema } from '@/lib/domain/clips/prepared';

// What the engine's child process and its owner say to each other. The child reads files of strangers, so what it
// answers is parsed like any other input.

export const prepareJobSchema = z.object({
  kind: z.literal('prepare'),
  original: z.string(),
  folder: z.string(),
  declaredType: z.string(),
  knownRate: z.number().positive().nullable(),
  isSilent: z.boolean(),
  maxBytes: z.number().positive(),
  maxSeconds: z.number().positive(),
});
export type PrepareMessage = z.infer<typeof prepareJobSchema>;

const voiceTypeSchema = z.enum(['audio/webm', 'audio/mp4']);

/** Joins pieces of takes into one voice. `take` is a place in `takes`, null for silence; milliseconds of the take. */
export const voiceJobSchema = z.object({
  kind: z.literal('voice'),
  folder: z.string(),
  takes: z.array(z.object({ file: z.string(), type: voiceTypeSchema })).min(1),
  pieces: z.array(
    z.object({
      take: z.int().nonnegative().nullable(),
      fromMs: z.int().nonnegative(),
      toMs: z.int().positive(),
    }),
  ),
});
export type VoiceJob = z.infer<typeof voiceJobSchema>;

/** What joining made: the file in the folder, and how long each take is; null for one that cannot be read. */
export const voiceFactsSchema = z.object({
  file: z.enum(['voice.webm', 'voice.m4a']),
  type: voiceTypeSchema,
  sizeBytes: z.int().positive(),
  takes: z.array(z.object({ durationMs: z.int().nonnegative() }).nullable()),
});
export type VoiceFacts = z.infer<typeof voiceFactsSchema>;

/** Writes a voice anew as AAC, for exports. */
export const soundJobSchema = z.object({
  kind: z.literal('sound'),
  folder: z.string(),
  voice: z.string(),
  type: voiceTypeSchema,
  durationMs: z.int().positive(),
});
export type SoundJob = z.infer<typeof soundJobSchema>;

const rectSchema = z.object({
  x: z.int(),
  y: z.int(),
  width: z.int().positive(),
  height: z.int().positive(),
});

/** A planned film as it is handed over: pictures that differ, each with the parts of frames it is laid of. */
export const filmPlanSchema = z.object({
  width: z.int().positive().max(4096),
  height: z.int().positive().max(4096),
  durationMs: z.int().positive(),
  pictures: z.array(
    z.object({
      atMs: z.int().nonnegative(),
      layers: z.array(
        z.object({
          clipId: z.string(),
          frame: z.int().nonnegative(),
          from: rectSchema,
          to: rectSchema,
          opacity: z.number().min(0).max(1),
        }),
      ),
    }),
  ),
});
export type FilmPlanFile = z.infer<typeof filmPlanSchema>;

/** Makes an MP4 of a planned film. `script`: its drawings (Advanced SubStation Alpha); `captions`: WebVTT for a track. */
export const filmJobSchema = z.object({
  kind: z.literal('film'),
  folder: z.string(),
  plan: z.string(),
  script: z.string(),
  clips: z.array(z.object({ clipId: z.string(), file: z.string() })),
  voice: z.object({ file: z.string(), type: voiceTypeSchema }).nullable(),
  captions: z.string().nullable(),
});
export type FilmJob = z.infer<typeof filmJobSchema>;

export const jobSchema = z.object({
  job: z.int(),
  work: z.discriminatedUnion('kind', [prepareJobSchema, voiceJobSchema, soundJobSchema, filmJobSchema]),
});
export type JobMessage = z.infer<typeof jobSchema>;
export type Work = JobMessage['work'];

/** What each kind of work answers when it went well. */
export const FACTS_OF_WORK = {
  prepare: preparedFactsSchema,
  voice: voiceFactsSchema,
  sound: z.object({ sizeBytes: z.int().positive() }),
  film: z.object({ pictures: z.int().positive() }),
} as const satisfies Record<Work['kind'], z.ZodType>;
export type FactsOf<Kind extends Work['kind']> = z.infer<(typeof FACTS_OF_WORK)[Kind]>;

const tagged = z.number().positive().nullable();

/**
 * How the search for location data ended (`wiped`: the file of that name in the job's folder has none), and the capture
 * rate and lens that the phone wrote, which are wiped with the rest.
 */
export const originalSchema = z.discriminatedUnion('original', [
  z.object({ original: z.literal('clean'), taggedRate: tagged, focal35mm: tagged }),
  z.object({ original: z.literal('aside'), taggedRate: tagged, focal35mm: tagged }),
  z.object({
    original: z.literal('wiped'),
    taggedRate: tagged,
    focal35mm: tagged,
    wipedFile: z.literal('original-wiped'),
    md5: z.string(),
  }),
]);
export type OriginalFacts = z.infer<typeof originalSchema>;

const doneSchema = z.discriminatedUnion('ok', [
  z.object({ ok: z.literal(true), facts: z.unknown() }),
  z.object({ ok: z.literal(false), fault: z.enum(CLIP_FAULTS), detail: z.string() }),
]);

export const answerSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('ready') }),
  z.object({ kind: z.literal('alive'), job: z.int(), percent: z.int().min(0).max(100) }),
  z.object({ kind: z.literal('original'), job: z.int(), facts: originalSchema }),
  z.object({ kind: z.literal('done'), job: z.int(), outcome: doneSchema }),
]);
export type AnswerMessage = z.infer<typeof answerSchema>;
export type DoneOutcome = z.infer<typeof doneSchema>;
