import { CagepostError } from '../shared/errors';
import { plainText } from './cue-text';
import { MAX_CUE_CHARS, MAX_CUE_MS, MAX_CUES, MAX_VTT_CHARS, type Cue } from './cue';
import { collectTimestamp } from './timestamp';

/** What is wrong with a part of a file. `line` counts from 1. */
export interface VttProblem {
  line: number;
  sentence: string;
}

interface Block {
  /** Number of the first line, from 1. */
  line: number;
  lines: string[];
}

/**
 * Reads WebVTT by the parser of the W3C specification ("WebVTT file parsing", https://www.w3.org/TR/webvtt1/#file-parsing,
 * and "WebVTT cue timings and settings parsing"). Captions that cannot be used are left out and named, the rest is kept
 * in order of time. Of the words, tags are left out; styles, regions, notes, identifiers and settings are not kept.
 * Throws a `CagepostError` when it is no WebVTT at all or too long.
 */
export const parseVtt = (text: string): { cues: Cue[]; problems: VttProblem[] } => {
  if (text.length > MAX_VTT_CHARS)
    throw new CagepostError(
      'too-large',
      'This file of captions is too long. Nothing was changed. Captions for ten minutes are far shorter.',
      { length: text.length },
    );
  const input = text
    .replace(/^\uFEFF/, '')
    .replace(/\0/g, '\uFFFD')
    .replace(/\r\n?/g, '\n');
  if (!/^WEBVTT(?:[ \t\n]|$)/.test(input)) throw noVtt();

  const cues: Cue[] = [];
  const problems: VttProblem[] = [];
  const tell = (line: number, sentence: string) => problems.push({ line, sentence });
  for (const block of blocksOf(input.split('\n'))) {
    const cue = cueOf(block, tell);
    if (!cue) continue;
    const last = cues.at(-1);
    if (last && cue.fromMs < last.fromMs)
      tell(block.line, 'This caption begins before the one above it. It was put in its place.');
    cues.push(cue);
  }
  // Text track cue order of HTML: the start, then the longer one first.
  cues.sort((a, b) => a.fromMs - b.fromMs || b.toMs - a.toMs);
  if (cues.length > MAX_CUES) tell(1, `There are more than ${MAX_CUES} captions. The first ones were kept.`);
  return { cues: cues.slice(0, MAX_CUES), problems };
};

const noVtt = () =>
  new CagepostError(
    'invalid',
    'This is not a file of captions: a WebVTT file begins with the word WEBVTT. Nothing was changed.',
  );

/** "Collect a WebVTT block": an empty line ends a block, and so does a time where the block has one already. */
const blocksOf = (lines: readonly string[]): Block[] => {
  const blocks: Block[] = [];
  let open: Block | null = null;
  let hasArrow = false;
  // The header reaches to the first empty line or, without one, to the first time.
  let isHeader = true;
  lines.forEach((text, at) => {
    if (at === 0) return;
    const isArrow = text.includes('-->');
    if (isHeader && text !== '' && !isArrow) return;
    isHeader = false;
    if (text === '') {
      open = null;
      return;
    }
    const isNext = isArrow && open !== null && (hasArrow || open.lines.length > 1);
    if (!open || isNext) {
      open = { line: at + 1, lines: [] };
      hasArrow = false;
      blocks.push(open);
    }
    hasArrow ||= isArrow;
    open.lines.push(text);
  });
  return blocks;
};

const cueOf = ({ line, lines }: Block, tell: (line: number, sentence: string) => void): Cue | null => {
  const at = lines.findIndex((text) => text.includes('-->'));
  if (at === -1) {
    // NOTE, STYLE and REGION are blocks of their own; anything else is a caption without a time.
    if (!/^(?:NOTE|STYLE|REGION)(?:[ \t]|$)/.test(lines[0] ?? ''))
      tell(line, 'These words have no time, so they were left out.');
    return null;
  }
  const timeLine = line + at;
  const times = timesOf(lines[at] ?? '');
  if (!times) {
    tell(
      timeLine,
      'This time cannot be read, so the caption was left out. It should look like 00:01.000 --> 00:04.000.',
    );
    return null;
  }
  if (times.toMs <= times.fromMs) {
    tell(timeLine, 'This caption ends before it begins, so it was left out.');
    return null;
  }
  if (times.toMs > MAX_CUE_MS) {
    tell(timeLine, 'This caption is later than any voice, so it was left out.');
    return null;
  }
  const words = plainText(lines.slice(at + 1).join('\n'));
  if (words === '') {
    tell(timeLine, 'This caption has no words, so it was left out.');
    return null;
  }
  if (words.length > MAX_CUE_CHARS)
    tell(timeLine, `This caption has more than ${MAX_CUE_CHARS} letters. Its end was left out.`);
  return { ...times, text: cutAt(words, MAX_CUE_CHARS) };
};

/** "Collect WebVTT cue timings and settings"; the settings say where words stand and are not kept. */
const timesOf = (text: string): { fromMs: number; toMs: number } | null => {
  const from = collectTimestamp(text.replace(/^[ \t\f]+/, ''));
  const arrow = from && /^[ \t\f]*-->[ \t\f]*/.exec(from.rest);
  const to = arrow && collectTimestamp(from.rest.slice(arrow[0].length));
  return to ? { fromMs: from.ms, toMs: to.ms } : null;
};

/** Cuts at a whole character (two code units for some) and without a space at the end. */
const cutAt = (text: string, length: number): string =>
  text.length <= length
    ? text
    : text
        .slice(0, length)
        .replace(/[\ud800-\udbff]$/, '')
        .trimEnd();
