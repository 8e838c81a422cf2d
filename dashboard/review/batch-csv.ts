/** A batch as CSV (RFC 4180): a row a day, the band, and a column a nuc. In the reader's units. Pure. */
import type { BatchReview } from '../../server/contract/review.ts';
import type { Display } from '../format/units.ts';
import { shownUnit } from '../format/units.ts';
import { shownValue } from './values.ts';

/** What a spreadsheet would run as a formula; a quote in front keeps it text. Names only: figures may be negative. */
const formula = /^[=+\-@\t\r]/;

function cellOf(words: string): string {
  const safe = formula.test(words) ? `'${words}` : words;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** Lines end in CRLF. An empty field is a day without a value. */
export function batchCsv(review: BatchReview, spread: boolean, how: Display): string {
  const unit = shownUnit(review.unit, how);
  const figure = (value: number | null | undefined): string =>
    value === null || value === undefined ? '' : shownValue(value, review, spread, how).toFixed(3);
  const head = ['day', `band low, ${unit}`, `middle, ${unit}`, `band high, ${unit}`];
  const rows = review.days.map((day, i) => {
    const band = review.band[i];
    const own = review.nucs.map((nuc) => figure(nuc.values[i]));
    return [String(day), figure(band?.low), figure(band?.middle), figure(band?.high), ...own];
  });
  const names = [...head, ...review.nucs.map((nuc) => nuc.name)].map(cellOf);
  return [names, ...rows].map((row) => `${row.join(',')}\r\n`).join('');
}
