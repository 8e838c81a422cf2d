/**
 * Comma-separated values as RFC 4180 has them: CRLF, a header row, quotes doubled. UTF-8 without a byte-order mark,
 * a point in numbers and ISO 8601 in times, whatever the reader's language.
 */
import { stringify } from 'csv-stringify/sync';

export type Cell = string | number | boolean | null | undefined;

/**
 * A spreadsheet takes a text that begins like this for a formula and runs it. Numbers stay as they are: `-3.2` is
 * a temperature. See "CSV Injection", OWASP.
 */
const likeAFormula = /^[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/;

/** The cell as text that no spreadsheet runs: an apostrophe goes before what looks like a formula. */
export const safeCell = (cell: Cell): string => {
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : '';
  if (typeof cell !== 'string') return cell === true ? 'yes' : cell === false ? 'no' : '';
  return likeAFormula.test(cell) ? `'${cell}` : cell;
};

/** Rows as CSV text, each ended by CRLF. */
export const csvRows = (rows: readonly (readonly Cell[])[]): string =>
  stringify(
    rows.map((row) => row.map(safeCell)),
    { record_delimiter: '\r\n', eof: true },
  );
