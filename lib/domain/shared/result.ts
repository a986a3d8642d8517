import type { Fault } from './errors';

/** What an action answers to a screen: a value, or a refusal that a person can read. Field errors are keyed by input name. */
export type Answer<T> =
  { ok: true; value: T } | { ok: false; fault: Fault; message: string; fields?: Record<string, string[]> };
