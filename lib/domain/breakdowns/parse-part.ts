import { versionedParser } from '../marks/versioned';
import { CagepostError } from '../shared/errors';
import { checkBegin, checkOrder, liftEvents } from './check-events';
import type { BreakdownEvent } from './event';
import { partHeadSchema, type PartHead } from './timeline';

const LINE_FEED = 10;
/** A head longer than this is none: ten seconds of a hand drawing without a pause take less than a tenth of it. */
const MOST_HEAD_BYTES = 4 * 2 ** 20;

const parseHead = versionedParser<PartHead>({
  what: 'part of the recording',
  version: 1,
  upgrades: {},
  schema: partHeadSchema.refine((head) => head.toMs >= head.fromMs, 'A part does not end before it begins.'),
});

/** The file of one part: its head as one line of JSON, a line feed, the voice. `voiceBytes` is set to what is there. */
export const writePart = (
  head: Omit<PartHead, 'voiceBytes'> & { voiceBytes?: number },
  voice: Uint8Array,
): Uint8Array<ArrayBuffer> => {
  const line = new TextEncoder().encode(JSON.stringify({ ...head, voiceBytes: voice.byteLength }));
  const bytes = new Uint8Array(line.byteLength + 1 + voice.byteLength);
  bytes.set(line);
  bytes[line.byteLength] = LINE_FEED;
  bytes.set(voice, line.byteLength + 1);
  return bytes;
};

/**
 * Reads the file of one part. `voice` is a view into `bytes`. Throws a `CagepostError`: "invalid" for what is no part
 * or was cut short, "conflict" for one of a newer version.
 */
export const readPart = (bytes: Uint8Array): { head: PartHead; voice: Uint8Array } => {
  const end = bytes.subarray(0, MOST_HEAD_BYTES).indexOf(LINE_FEED);
  if (end === -1) throw broken('no head');
  const head = parseHead(liftEvents(jsonOf(bytes.subarray(0, end))));
  checkOrder(head.events);
  // A spoken remark has a voice and nothing that was done.
  if (head.number === 0 && head.events.length > 0) checkBegin(head.events);
  const voice = bytes.subarray(end + 1);
  if (voice.byteLength !== head.voiceBytes)
    throw broken('cut short', { has: voice.byteLength, should: head.voiceBytes });
  return { head, voice };
};

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
