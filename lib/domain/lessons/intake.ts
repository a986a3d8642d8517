import * as z from 'zod';
import { CLIP_VIEWS } from '../clips/clip';
import { HANDS, PITCH_MODES, SWING_RESULTS } from './state';

/** Places of the body that the pain question offers, besides free words. */
export const PAIN_PLACES = [
  'hand or wrist',
  'elbow',
  'front shoulder',
  'back shoulder',
  'side or ribs',
  'lower back',
  'hip',
  'knee or leg',
  'somewhere else',
] as const;

/** What the sender has said so far. Everything may still be open; a draft is saved as it is. */
export const draftSchema = z.object({
  question: z.string().max(600),
  bats: z.enum(HANDS).nullable(),
  pitchMode: z.enum(PITCH_MODES).nullable(),
  pitchZone: z.int().min(0).max(8).nullable(),
  result: z.enum(SWING_RESULTS).nullable(),
  painLevel: z.int().min(0).max(10).nullable(),
  painWhere: z.string().max(120).nullable(),
  clips: z
    .array(
      z.object({
        id: z.uuid(),
        view: z.enum(CLIP_VIEWS).nullable(),
        captureRate: z.number().min(1).max(1000).nullable(),
        /** The lens as the phone wrote it, in millimetres of a 35 mm camera. */
        focal35mm: z.number().min(1).max(2000).nullable().default(null),
        /** Asked; null: not answered. */
        isZoomed: z.boolean().nullable().default(null),
      }),
    )
    .max(4, 'A lesson takes four clips at most.'),
});
export type Draft = z.infer<typeof draftSchema>;

/** What a sender says of a swing, with nothing said. */
export const NOTHING_SAID: Readonly<Omit<Draft, 'clips'>> = {
  question: '',
  bats: null,
  pitchMode: null,
  pitchZone: null,
  result: null,
  painLevel: null,
  painWhere: null,
};

/** A draft with nothing in it. */
export const emptyDraft = (): Draft => ({ ...NOTHING_SAID, clips: [] });

export type MissingAnswer = 'clip' | 'view' | 'bats' | 'pitch-mode' | 'pain' | 'pain-where' | 'question';

/** Sentences for what is still missing before a lesson can be sent. */
export const MISSING_WORDS = {
  clip: 'Add at least one clip of the swing.',
  view: 'Say where the phone stood for each clip.',
  bats: 'Say which side the player bats from.',
  'pitch-mode': 'Say where the ball came from.',
  pain: 'Answer the question about pain. Zero is fine.',
  'pain-where': 'Say where it hurts, so that your coach knows.',
  question: 'Write what you want looked at, even one line.',
} as const satisfies Record<MissingAnswer, string>;

/** What still has to be answered before the lesson can be sent, in the order of the form. Pitch place and result are optional. */
export function missingForSend(draft: Draft): MissingAnswer[] {
  const missing: MissingAnswer[] = [];
  if (draft.clips.length === 0) missing.push('clip');
  if (draft.bats === null) missing.push('bats');
  if (draft.clips.some((clip) => clip.view === null)) missing.push('view');
  if (draft.pitchMode === null) missing.push('pitch-mode');
  if (draft.painLevel === null) missing.push('pain');
  if ((draft.painLevel ?? 0) > 0 && !draft.painWhere?.trim()) missing.push('pain-where');
  if (!draft.question.trim()) missing.push('question');
  return missing;
}
