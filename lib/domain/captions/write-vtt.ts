import { escapeText } from './cue-text';
import type { Cue } from './cue';
import { writeTimestamp } from './timestamp';

/**
 * Captions as a WebVTT file ("WebVTT file using caption or subtitle cue text",
 * https://www.w3.org/TR/webvtt1/#file-structure): to be sent as UTF-8 with the media type `text/vtt`. Read back by
 * `parseVtt` it gives the same captions.
 */
export const writeVtt = (cues: readonly Cue[]): string =>
  ['WEBVTT', ...cues.map(cueBlock)].join('\n\n') + '\n';

const cueBlock = ({ fromMs, toMs, text }: Cue) =>
  `${writeTimestamp(fromMs)} --> ${writeTimestamp(toMs)}\n${escapeText(text)}`;
