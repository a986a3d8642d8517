import * as z from 'zod';
import { CagepostError } from '../shared/errors';

const envelopeSchema = z.looseObject({ version: z.int().positive() });

/**
 * The one way in for a stored or sent shape: lifts older versions step by step, checks the outcome, refuses the rest.
 * `upgrades[n]` turns version n into n + 1. Throws `CagepostError` ("invalid"; "conflict" for a newer version).
 */
export const versionedParser =
  <T>(shape: {
    /** As in "These marks cannot be read". */
    what: string;
    version: number;
    upgrades: Readonly<Record<number, (old: Record<string, unknown>) => Record<string, unknown>>>;
    schema: z.ZodType<T>;
  }) =>
  (raw: unknown): T => {
    const envelope = envelopeSchema.safeParse(raw);
    if (!envelope.success) throw unreadable(shape.what, envelope.error);
    let lifted: Record<string, unknown> = envelope.data;
    for (let version = envelope.data.version; version !== shape.version; version += 1) {
      if (version > shape.version) throw newer(shape.what, envelope.data.version);
      const upgrade = shape.upgrades[version];
      if (!upgrade) throw unreadable(shape.what, undefined, { version });
      lifted = { ...upgrade(lifted), version: version + 1 };
    }
    const parsed = shape.schema.safeParse(lifted);
    if (!parsed.success) throw unreadable(shape.what, parsed.error);
    return parsed.data;
  };

const unreadable = (what: string, cause?: z.ZodError, detail: Record<string, unknown> = {}) =>
  new CagepostError(
    'invalid',
    `The ${what} cannot be read, so nothing was changed. Reload the page and try again.`,
    // Paths and codes only: the values may be a child's.
    { ...detail, issues: cause?.issues.slice(0, 5).map((i) => `${i.path.join('.')}: ${i.code}`) },
    { cause },
  );

const newer = (what: string, version: number) =>
  new CagepostError(
    'conflict',
    `The ${what} was written by a newer Cagepost than this page. Nothing was changed. Reload the page.`,
    { version },
  );
