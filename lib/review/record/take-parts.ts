import type { PartHead } from '@/lib/domain/breakdowns/timeline';
import type { KeptSlice } from './take-store';

/** So many slices of half a second make a part: about ten seconds. The last part of a take has what is left. */
export const SLICES_PER_PART = 20;

export interface Part {
  readonly head: Omit<PartHead, 'voiceBytes'>;
  readonly voice: Uint8Array;
}

/** The bytes of slices one after the other. */
export const voiceOf = (slices: readonly Pick<KeptSlice, 'voice'>[]): Uint8Array<ArrayBuffer> => {
  const bytes = new Uint8Array(slices.reduce((sum, slice) => sum + (slice.voice?.byteLength ?? 0), 0));
  let at = 0;
  for (const { voice } of slices) {
    if (!voice) continue;
    bytes.set(new Uint8Array(voice), at);
    at += voice.byteLength;
  }
  return bytes;
};

/**
 * One part of a take. The same slices always give the same bytes, so that a part which is made again after a reload
 * is the one that the server may have already.
 */
export const partOf = (slices: readonly KeptSlice[], number: number, voiceType: string): Part | null => {
  const own = slices.slice(number * SLICES_PER_PART, (number + 1) * SLICES_PER_PART);
  const [first, last] = [own[0], own.at(-1)];
  if (!first || !last) return null;
  const events = own.flatMap((slice) => [...slice.events]);
  const head = { version: 2 as const, segmentId: first.segmentId, number, voiceType };
  return { head: { ...head, fromMs: first.fromMs, toMs: last.toMs, events }, voice: voiceOf(own) };
};

/** How many parts the slices of a take make: the whole ones only, or with the rest when the take `isOver`. */
export const partCount = (sliceCount: number, isOver: boolean): number =>
  isOver ? Math.ceil(sliceCount / SLICES_PER_PART) : Math.floor(sliceCount / SLICES_PER_PART);
