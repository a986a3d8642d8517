/** A cell: words, a number, or nothing. */
export type Cell = string | number | null;

/**
 * Words that a table program would take for a formula: they begin with one of these (OWASP, "CSV Injection"). They get
 * an apostrophe in front, which such programs read as "this is text".
 */
const FORMULA = /^[=+\-@\t\r\n＝＋－＠]/;

const written = (cell: Cell): string => {
  if (cell === null) return '';
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : '';
  const safe = FORMULA.test(cell) ? `'${cell}` : cell;
  return /[",\r\n;]|^\s|\s$/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
};

/** Rows as comma-separated values (RFC 4180: CRLF after every row, quotes doubled), safe to open in a table program. */
export const toCsv = (rows: readonly (readonly Cell[])[]): string =>
  rows.map((row) => `${row.map(written).join(',')}\r\n`).join('');
