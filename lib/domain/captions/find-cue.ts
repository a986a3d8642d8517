import type { Cue } from './cue';

/** The caption that is shown at `ms`: of those that are on, the one that began last. Null when none is on. */
export const cueAt = (cues: readonly Cue[], ms: number): Cue | null =>
  cues.findLast((cue) => cue.fromMs <= ms && ms < cue.toMs) ?? null;

/** All that is said, a caption a line, for a page that is read and for the search. */
export const transcriptOf = (cues: readonly Cue[]): string =>
  cues.map((cue) => cue.text.replace(/\n/g, ' ')).join('\n');

/** Letters without case and accents. */
const plain = (text: string) => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();

/**
 * The captions in which all words are said, in any order, whatever their case and accents; a word may be the beginning
 * of a longer one. Words that lie over two captions find the first of them. Without words nothing is found.
 */
export const searchTranscript = (cues: readonly Cue[], words: string): { at: number; cue: Cue }[] => {
  const wanted = plain(words)
    .split(/[^\p{L}\p{N}'’]+/u)
    .filter(Boolean);
  if (wanted.length === 0) return [];
  const said = cues.map(
    (cue) =>
      ` ${plain(cue.text)
        .split(/[^\p{L}\p{N}'’]+/u)
        .join(' ')}`,
  );
  const isIn = (text: string) => wanted.every((word) => text.includes(` ${word}`));
  return cues.flatMap((cue, at) => {
    const [here, next] = [said[at] ?? '', said[at + 1] ?? ''];
    const isHere =
      isIn(here) || (!isIn(next) && wanted.some((word) => here.includes(` ${word}`)) && isIn(here + next));
    return isHere ? [{ at, cue }] : [];
  });
};
