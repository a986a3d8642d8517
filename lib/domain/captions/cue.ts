import * as z from 'zod';
import { CagepostError } from '../shared/errors';

/** As many captions as a breakdown holds: ten minutes with one every half second. */
export const MAX_CUES = 1200;
export const MAX_CUE_CHARS = 400;
/** The largest WebVTT text that is read, in characters. */
export const MAX_VTT_CHARS = 1_000_000;
/** A WebVTT time has no end; ours stops before 100 hours, so that its hours have two digits. */
export const MAX_CUE_MS = 100 * 3_600_000 - 1;

const ms = z.int().nonnegative().max(MAX_CUE_MS);

/**
 * One caption: plain words, shown from `fromMs` until just before `toMs` (whole milliseconds of the voice). Its lines are
 * parted by a line feed, none is empty. In a list they stand in order of `fromMs`; they may overlap.
 */
export const cueSchema = z
  .object({ fromMs: ms, toMs: ms, text: z.string().min(1).max(MAX_CUE_CHARS) })
  .refine((cue) => cue.fromMs < cue.toMs, 'A caption ends after it begins.');
export type Cue = z.infer<typeof cueSchema>;

/** Words as a caption holds them: no empty lines, no space at the ends of lines, no control characters. */
export const tidyText = (text: string): string =>
  text
    .replace(/\r\n?/g, '\n')
    // Also what would end a line somewhere else, and U+0000, which WebVTT replaces.
    .replace(/[\u0000-\u0008\u000b-\u001f\u007f\u0085\u2028\u2029]/g, ' ')
    .split('\n')
    .map((line) => line.replace(/[ \t]+/g, ' ').trim())
    .filter((line) => line !== '')
    .join('\n');

/** A refusal of a change to captions. */
export const refusedCaption = (sentence: string, detail: Record<string, unknown> = {}) =>
  new CagepostError('invalid', `${sentence} The captions were left as they are.`, detail);
