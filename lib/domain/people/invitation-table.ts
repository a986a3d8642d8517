import Papa from 'papaparse';

/** At most so many people in one table, and so many characters. */
export const MOST_ROWS = 500;
export const MOST_TEXT = 400_000;

/** The columns that are read, by the names that people give them (small letters, one blank between words). */
const NAMES_OF = {
  name: ['name', 'full name'],
  email: ['email', 'e mail', 'mail', 'email address', 'e mail address'],
  role: ['role'],
  birthDate: ['birth date', 'birthdate', 'birthday', 'date of birth', 'born'],
  childName: ['child name', 'child', 'name of child'],
  childBirthDate: ['child birth date', 'child birthdate', 'child date of birth', 'child born'],
  guardianName: ['guardian name', 'guardian', 'parent name', 'parent'],
  guardianEmail: ['guardian email', 'guardian e mail', 'parent email', 'parent e mail'],
} as const;
export type Column = keyof typeof NAMES_OF;
export const COLUMNS = Object.keys(NAMES_OF) as Column[];

/** How a column is called in the table that people are given to fill. */
export const COLUMN_WORD = {
  name: 'name',
  email: 'email',
  role: 'role',
  birthDate: 'birth date',
  childName: 'child name',
  childBirthDate: 'child birth date',
  guardianName: 'guardian name',
  guardianEmail: 'guardian email',
} as const satisfies Record<Column, string>;

/** One person of the table as it was written, trimmed. `row` counts as a table program does: the heading is row 1. */
export type WrittenRow = Record<Column, string> & { row: number };

export type ReadTable = { ok: true; rows: WrittenRow[]; ignored: string[] } | { ok: false; sentence: string };

const plain = (text: string) =>
  text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
const columnOf = (heading: string): Column | null =>
  COLUMNS.find((column) => (NAMES_OF[column] as readonly string[]).includes(plain(heading))) ?? null;

const SEPARATORS = [',', ';', '\t'] as const;
const refuse = (sentence: string): ReadTable => ({ ok: false, sentence: `${sentence} Nothing was sent.` });

/** The separator with which the heading names the most columns; table programs write commas, semicolons or tabs. */
const separatorOf = (text: string): string => {
  const known = (delimiter: string) =>
    (Papa.parse<string[]>(text, { delimiter, preview: 1 }).data[0] ?? []).filter(columnOf).length;
  return SEPARATORS.reduce((best, one) => (known(one) > known(best) ? one : best));
};

/**
 * Reads a table of people (RFC 4180, or with semicolons or tabs; with or without a byte order mark). The first row
 * names the columns in any order; those nobody asked for are named in `ignored`. Refused with one sentence as a whole,
 * when no row of it could be meant.
 */
export const readTable = (text: string): ReadTable => {
  if (text.length > MOST_TEXT) return refuse('This is too long for a table of people. Is it the right file?');
  const body = text.replace(/^\uFEFF/, '');
  if (body.includes('\u0000')) return refuse('This is no text. Save the table as CSV and choose it again.');
  const { data, errors } = Papa.parse<string[]>(body, { delimiter: separatorOf(body) });
  const quote = errors.find((one) => one.type === 'Quotes');
  if (quote)
    return refuse(
      `A quotation mark in row ${(quote.row ?? 0) + 1} is not closed. Put it right and try again.`,
    );
  const [heading = [], ...rest] = data;
  const columns = heading.map(columnOf);
  const missing = (['name', 'email', 'role'] as const).filter((column) => !columns.includes(column));
  if (missing.length > 0) {
    return refuse(
      `The first row has to name the columns, and these are missing: ${missing.map((one) => COLUMN_WORD[one]).join(', ')}.`,
    );
  }
  const twice = columns.find((column, index) => column !== null && columns.indexOf(column) !== index);
  if (twice) return refuse(`The column “${COLUMN_WORD[twice]}” is there twice. Take one out.`);
  const rows = rest.flatMap((cells, index): WrittenRow[] => {
    if (cells.every((cell) => cell.trim() === '')) return [];
    const cellOf = (column: Column) => (cells[columns.indexOf(column)] ?? '').trim();
    const written = Object.fromEntries(COLUMNS.map((column) => [column, cellOf(column)]));
    return [{ ...(written as Record<Column, string>), row: index + 2 }];
  });
  if (rows.length === 0) return refuse('There is nobody under the heading.');
  if (rows.length > MOST_ROWS) {
    return refuse(`There are ${rows.length} rows; at most ${MOST_ROWS} go at once. Split the table.`);
  }
  const ignored = heading.filter((name, index) => columns[index] === null && name.trim() !== '');
  return { ok: true, rows, ignored };
};
