import { versionedParser } from '../marks/versioned';
import { CagepostError } from '../shared/errors';
import { checkBegin, checkOrder, liftEvents } from './check-events';
import type { BreakdownEvent } from './event';
import { packEvents, unpackEvents } from './pack-events';
import { partHeadSchema, type PartHead } from './timeline';

const LINE_FEED = 10;
/** A line longer than this is none. Version 1 has its events in it; those of ten seconds take less than a tenth. */
const MOST_LINE_BYTES = 4 * 2 ** 20;
const VERSION = 2;

const parseHead = versionedParser<PartHead>({
  what: 'part of the recording',
  version: VERSION,
  // Another place in the file for the events, the same head.
  upgrades: { 1: (old) => old },
  schema: partHeadSchema.refine((head) => head.toMs >= head.fromMs, 'A part does not end before it begins.'),
});

/**
 * The file of one part: its head as one line of JSON, a line feed, the events packed, the voice. The same part always
 * gives the same bytes. `voiceBytes` is set to what is there.
 */
export const writePart = (
  head: Omit<PartHead, 'voiceBytes'> & { voiceBytes?: number },
  voice: Uint8Array,
): Uint8Array<ArrayBuffer> => {
  const { events, ...rest } = head;
  const packed = packEvents(events);
  const sizes = { voiceBytes: voice.byteLength, eventsBytes: packed.byteLength };
  const line = new TextEncoder().encode(`${JSON.stringify({ ...rest, ...sizes })}\n`);
  const bytes = new Uint8Array(line.byteLength + packed.byteLength + voice.byteLength);
  bytes.set(line);
  bytes.set(packed, line.byteLength);
  bytes.set(voice, line.byteLength + packed.byteLength);
  return bytes;
};

/**
 * Reads the file of one part, of this version or an older one. `voice` is a view into `bytes`. Throws a
 * `CagepostError`: "invalid" for what is no part, was cut short or is far larger unpacked than a part can be,
 * "conflict" for one of a newer version.
 */
export const readPart = (bytes: Uint8Array): { head: PartHead; voice: Uint8Array } => {
  const end = bytes.subarray(0, MOST_LINE_BYTES).indexOf(LINE_FEED);
  if (end === -1) throw broken('no head');
  const { raw, voice } = partIn(jsonOf(bytes.subarray(0, end)), bytes.subarray(end + 1));
  const head = parseHead(liftEvents(raw, VERSION));
  checkOrder(head.events);
  // A spoken remark has a voice and nothing that was done.
  if (head.number === 0 && head.events.length > 0) checkBegin(head.events);
  if (voice.byteLength !== head.voiceBytes)
    throw broken('cut short', { has: voice.byteLength, should: head.voiceBytes });
  return { head, voice };
};

/** The head with its events, unchecked, and the voice; what is of another version is left as it is. */
const partIn = (line: unknown, rest: Uint8Array): { raw: unknown; voice: Uint8Array } => {
  if (!isRecord(line) || line.version !== VERSION) return { raw: line, voice: rest };
  const { eventsBytes, ...raw } = line;
  const isHere = Number.isInteger(eventsBytes) && Number(eventsBytes) >= 0;
  const packed = rest.subarray(0, isHere ? Number(eventsBytes) : 0);
  if (!isHere || packed.byteLength !== eventsBytes) throw broken('cut short', { has: rest.byteLength });
  let unpacked: Uint8Array;
  try {
    unpacked = unpackEvents(packed);
  } catch (error) {
    throw broken('not packed as events are', {}, error);
  }
  return { raw: { ...raw, events: jsonOf(unpacked) }, voice: rest.subarray(packed.byteLength) };
};

const isRecord = (raw: unknown): raw is Record<string, unknown> => typeof raw === 'object' && raw !== null;

const jsonOf = (bytes: Uint8Array): unknown => {
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch (error) {
    throw broken('no JSON', {}, error);
  }
};

const broken = (why: string, detail: Record<string, unknown> = {}, cause?: unknown) =>
  new CagepostError(
    'invalid',
    'A part of the recording arrived damaged. It is still kept where it was recorded and can be sent again.',
    { why, ...detail },
    { cause },
  );

/** One run of the recorder, put together from its parts. */
export interface Take {
  events: BreakdownEvent[];
  durationMs: number;
  /** Numbers of parts that are missing before the last one; the take is whole when there is none. */
  missing: number[];
}

/**
 * Puts the parts of one take together, in any order of arrival; a part that came twice counts once. With a part missing
 * the take stops before it (what comes after has no voice that fits). Throws when there is no part 0.
 */
export const joinParts = (heads: readonly PartHead[]): Take => {
  const byNumber = new Map(heads.map((head) => [head.number, head]));
  const last = Math.max(-1, ...byNumber.keys());
  const missing = Array.from({ length: last + 1 }, (_, n) => n).filter((n) => !byNumber.has(n));
  const whole = [...byNumber.values()]
    .sort((a, b) => a.number - b.number)
    .filter((head) => head.number < (missing[0] ?? Infinity));
  const end = whole.at(-1);
  if (!end) throw broken('no beginning', { missing: missing.slice(0, 5) });
  const events = whole.flatMap((head) => head.events);
  if (events.length > 0) checkBegin(events);
  checkOrder(events);
  return { events, durationMs: Math.max(end.toMs, events.at(-1)?.t ?? 0), missing };
};
