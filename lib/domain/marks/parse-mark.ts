import { CagepostError } from '../shared/errors';
import { markSchema, type Mark } from './mark';
import { versionedParser } from './versioned';

/** As many as `sheetSchema` takes. */
export const MAX_MARKS = 400;

/** Two x of a plumb line further apart than this (a fraction of the width) are not one vertical. */
const VERTICAL_TOLERANCE = 1e-6;

const soundMarkSchema = markSchema
  .refine(
    (m) => m.kind !== 'plumb' || Math.abs(m.points[0].x - m.points[1].x) <= VERTICAL_TOLERANCE,
    'A plumb line is a vertical.',
  )
  .refine((m) => m.kind !== 'text' || m.text.trim() !== '', 'A text mark needs words.');

const parseOne = versionedParser<Mark>({ what: 'mark', version: 1, upgrades: {}, schema: soundMarkSchema });

/** Reads one mark that was stored or sent: lifts older versions, refuses the rest with a `CagepostError`. */
export const parseMark = (raw: unknown): Mark => parseOne(raw);

/** Reads a list of marks; one bad mark refuses the whole list, so that nothing is dropped unseen. Ids must differ. */
export const parseMarks = (raw: unknown): Mark[] => {
  if (!Array.isArray(raw) || raw.length > MAX_MARKS) throw notMarks({ isList: Array.isArray(raw) });
  const marks = raw.map(parseMark);
  if (new Set(marks.map((m) => m.id.toLowerCase())).size !== marks.length)
    throw notMarks({ repeatedId: true });
  return marks;
};

const notMarks = (detail: Record<string, unknown>) =>
  new CagepostError(
    'invalid',
    `The marks cannot be read, so nothing was changed. A lesson holds at most ${MAX_MARKS} marks.`,
    detail,
  );
