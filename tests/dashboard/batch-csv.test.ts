/** The batch as CSV, read back by an independent reader of RFC 4180 (csv-parse). */
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { batchCsv } from '../../dashboard/review/batch-csv.ts';
import type { BatchReview } from '../../server/contract/review.ts';

const nuc = (name: string, values: (number | null)[]): BatchReview['nucs'][number] => ({
  id: name,
  name,
  values,
  outsideSinceDay: null,
  text: '',
});
const review: BatchReview = {
  batches: ['May'],
  unit: 'Cel',
  days: [-1, 0],
  band: [{ low: 33, middle: 34.5, high: 35 }, null],
  nucs: [nuc('Elm, "left"\nrow', [34, null]), nuc('=HYPERLINK("x")', [-0.5, 35.25])],
  summary: '',
};
const read = (text: string): string[][] => parse(text, { record_delimiter: '\r\n' });

describe('a batch as CSV', () => {
  it('has a row a day, with empty fields where nothing is known', () => {
    expect(read(batchCsv(review, false, { temperature: 'C', weight: 'kg' })).slice(1)).toEqual([
      ['-1', '33.000', '34.500', '35.000', '34.000', '-0.500'],
      ['0', '', '', '', '', '35.250'],
    ]);
  });
  it('keeps commas, quotes and line breaks in names, and lets no name run as a formula', () => {
    const [head] = read(batchCsv(review, false, { temperature: 'C', weight: 'kg' }));
    expect(head?.slice(4)).toEqual(['Elm, "left"\nrow', `'=HYPERLINK("x")`]);
  });
  it('is in the reader’s units, a swing without the zero of the scale', () => {
    expect(read(batchCsv(review, false, { temperature: 'F', weight: 'lb' }))[2]?.[5]).toBe('95.450');
    expect(read(batchCsv(review, true, { temperature: 'F', weight: 'lb' }))[2]?.[5]).toBe('63.450');
  });
});
