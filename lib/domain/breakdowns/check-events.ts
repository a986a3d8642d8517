import { parseMark, parseMarks } from '../marks/parse-mark';
import { CagepostError } from '../shared/errors';
import { eventSchema, type BreakdownEvent } from './event';

const KINDS: ReadonlySet<unknown> = new Set(eventSchema.options.map((option) => option.shape.kind.value));

const isRecord = (raw: unknown): raw is Record<string, unknown> => typeof raw === 'object' && raw !== null;

/**
 * Makes the list of events in a raw timeline or part ready for its schema: lifts the marks in it, refuses kinds that
 * the shape does not have up to its `newest` version. What has no list of events, or is newer, is given back as it is,
 * for the schema to refuse.
 */
export const liftEvents = (raw: unknown, newest = 1): unknown => {
  if (!isRecord(raw) || !Array.isArray(raw.events)) return raw;
  if (typeof raw.version !== 'number' || raw.version > newest) return raw;
  return { ...raw, events: raw.events.map(liftEvent) };
};

const liftEvent = (raw: unknown, at: number): unknown => {
  if (!isRecord(raw)) return raw;
  if (typeof raw.kind === 'string' && !KINDS.has(raw.kind))
    throw refused('It holds a step of a kind that this page does not know.', { at });
  if (raw.kind === 'mark') return { ...raw, mark: parseMark(raw.mark) };
  if (raw.kind === 'scene' && isRecord(raw.scene))
    return { ...raw, scene: { ...raw.scene, marks: parseMarks(raw.scene.marks) } };
  return raw;
};

/** Refuses events whose times fall. */
export const checkOrder = (events: readonly BreakdownEvent[]): void => {
  const at = events.findIndex((event, i) => event.t < (events[i - 1]?.t ?? 0));
  if (at !== -1) throw refused('Its steps are out of order.', { at });
};

/** Refuses a list of events that does not begin with a scene at 0. */
export const checkBegin = (events: readonly BreakdownEvent[]): void => {
  const first = events[0];
  if (first?.kind !== 'scene' || first.t !== 0)
    throw refused('Its beginning is missing.', { kind: first?.kind });
};

/** A refusal of a breakdown: why, that nothing was changed, what to do. */
export const refused = (why: string, detail: Record<string, unknown> = {}) =>
  new CagepostError(
    'invalid',
    `This breakdown cannot be played. ${why} Nothing was changed. Load the page again; if it stays, ask for it to be recorded again.`,
    detail,
  );
