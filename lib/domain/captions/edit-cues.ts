import { MAX_CUE_CHARS, MAX_CUE_MS, MAX_CUES, refusedCaption, tidyText, type Cue } from './cue';

/** The shortest caption that an edit makes, in milliseconds. */
const LEAST_MS = 100;

/*
 * Every edit gives a new list that keeps the rules (each caption ends after it begins, in order of beginning, none
 * without words) or throws a `CagepostError` with a sentence. `at` is a place in the list, from 0.
 */

const cueOf = (cues: readonly Cue[], at: number): Cue => {
  const cue = cues[at];
  if (!cue) throw refusedCaption('There is no such caption.', { at });
  return cue;
};

const put = (cues: readonly Cue[], at: number, count: number, ...others: Cue[]): Cue[] => [
  ...cues.slice(0, at),
  ...others,
  ...cues.slice(at + count),
];

const wordsOf = (text: string): string => {
  const words = tidyText(text);
  if (words === '') throw refusedCaption('A caption needs words. Remove it if nothing is said there.');
  if (words.length > MAX_CUE_CHARS)
    throw refusedCaption(`A caption has at most ${MAX_CUE_CHARS} letters. Split it in two.`);
  return words;
};

/**
 * Parts a caption in two at a place in its words. `atMs` is when the second begins; without it, in proportion to the
 * words.
 */
export const splitCue = (cues: readonly Cue[], at: number, textAt: number, atMs?: number): Cue[] => {
  const { fromMs, toMs, text } = cueOf(cues, at);
  const [before, after] = [tidyText(text.slice(0, textAt)), tidyText(text.slice(textAt))];
  if (before === '' || after === '')
    throw refusedCaption('Put the cursor between two words of the caption, then split it.');
  const length = toMs - fromMs;
  if (length < 2 * LEAST_MS) throw refusedCaption('This caption is too short in time to be split.');
  const middle = atMs ?? fromMs + Math.round((length * before.length) / (before.length + after.length));
  const cut = Math.min(toMs - LEAST_MS, Math.max(fromMs + LEAST_MS, Math.round(middle)));
  const halves = [
    { fromMs, toMs: cut, text: before },
    { fromMs: cut, toMs, text: after },
  ];
  return inOrder(put(cues, at, 1, ...halves));
};

/** Makes one caption of this one and the next, over both their times. */
export const joinWithNext = (cues: readonly Cue[], at: number): Cue[] => {
  const [one, next] = [cueOf(cues, at), cues[at + 1]];
  if (!next) throw refusedCaption('There is no caption after this one to join it with.');
  const joined = {
    fromMs: one.fromMs,
    toMs: Math.max(one.toMs, next.toMs),
    text: wordsOf(`${one.text} ${next.text}`),
  };
  return put(cues, at, 2, joined);
};

/** Moves this caption and all after it earlier (negative) or later, in milliseconds. */
export const shiftCues = (cues: readonly Cue[], byMs: number, from = 0): Cue[] => {
  const by = Math.round(byMs);
  const [before, first] = [cues[from - 1], cueOf(cues, from)];
  if (first.fromMs + by < 0) throw refusedCaption('That would put a caption before the voice begins.');
  if (before && first.fromMs + by < before.fromMs)
    throw refusedCaption('That would put this caption before the one above it.');
  if (cues.some((cue) => cue.toMs + by > MAX_CUE_MS)) throw refusedCaption('That is later than any voice.');
  return cues.map((cue, at) => (at < from ? cue : { ...cue, fromMs: cue.fromMs + by, toMs: cue.toMs + by }));
};

/** Changes the words of a caption. */
export const setText = (cues: readonly Cue[], at: number, text: string): Cue[] =>
  put(cues, at, 1, { ...cueOf(cues, at), text: wordsOf(text) });

/** Changes when a caption is shown; its place in the list stays. */
export const setTimes = (
  cues: readonly Cue[],
  at: number,
  { fromMs, toMs }: Pick<Cue, 'fromMs' | 'toMs'>,
): Cue[] => {
  const cue = cueOf(cues, at);
  checkTimes(fromMs, toMs);
  if (fromMs < (cues[at - 1]?.fromMs ?? 0) || fromMs > (cues[at + 1]?.fromMs ?? MAX_CUE_MS))
    throw refusedCaption('A caption begins after the one above it and before the one below it.');
  return put(cues, at, 1, { ...cue, fromMs, toMs });
};

/** Adds a caption at its place in time; after those that begin at the same moment. */
export const addCue = (cues: readonly Cue[], cue: Cue): Cue[] => {
  if (cues.length >= MAX_CUES) throw refusedCaption(`A breakdown has at most ${MAX_CUES} captions.`);
  checkTimes(cue.fromMs, cue.toMs);
  const after = cues.findIndex((other) => other.fromMs > cue.fromMs);
  return put(cues, after === -1 ? cues.length : after, 0, { ...cue, text: wordsOf(cue.text) });
};

/** Takes a caption out. */
export const removeCue = (cues: readonly Cue[], at: number): Cue[] => {
  cueOf(cues, at);
  return put(cues, at, 1);
};

const checkTimes = (fromMs: number, toMs: number) => {
  if (![fromMs, toMs].every((ms) => Number.isInteger(ms) && ms >= 0 && ms <= MAX_CUE_MS))
    throw refusedCaption('That is no time of the voice. Write it like 00:01:02.500.');
  if (fromMs >= toMs) throw refusedCaption('A caption ends after it begins.');
};

/** The second half of an overlapping caption may begin after the one below it does. */
const inOrder = (cues: Cue[]): Cue[] => cues.sort((a, b) => a.fromMs - b.fromMs);
