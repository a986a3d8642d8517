import { deflateSync, Inflate } from 'fflate';
import type { BreakdownEvent } from './event';

/** Events of ten seconds in which a hand draws without a pause take less than a tenth of it. */
const MOST_BYTES = 4 * 2 ** 20;
/** DEFLATE makes at most 1032 bytes of one, so that a step of so many never fills the memory. */
const STEP_BYTES = 4096;

/** Events as JSON in UTF-8, packed by raw DEFLATE (RFC 1951). The same events always give the same bytes. */
export const packEvents = (events: readonly BreakdownEvent[]): Uint8Array =>
  deflateSync(new TextEncoder().encode(JSON.stringify(events)), { level: 9 });

/**
 * The JSON, in UTF-8, that `packEvents` packed. Throws an `Error` for bytes that are not packed so, and a `RangeError`
 * as soon as more than 4 MiB came out of them.
 */
export const unpackEvents = (packed: Uint8Array): Uint8Array => {
  const pieces: Uint8Array[] = [];
  let size = 0;
  const stream = new Inflate((piece) => {
    size += piece.byteLength;
    pieces.push(piece);
  });
  for (let at = 0; at < packed.byteLength || at === 0; at += STEP_BYTES) {
    stream.push(packed.slice(at, at + STEP_BYTES), at + STEP_BYTES >= packed.byteLength);
    if (size > MOST_BYTES) throw new RangeError('More was packed than a part can hold.');
  }
  const bytes = new Uint8Array(size);
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.byteLength;
  }
  return bytes;
};
