import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvRows, safeCell } from '../../server/http/export/csv.ts';
import { fileSafe } from '../../server/http/export/stream.ts';

describe('CSV', () => {
  // RFC 4180 §2: rules 1 (CRLF), 5 and 6 (quotes around commas and breaks), 7 (quotes doubled).
  it('writes what RFC 4180 asks for', () => {
    expect(csvRows([['aaa', 'b \r\nbb', 'c"c', 'd,d', '']])).toBe('aaa,"b \r\nbb","c""c","d,d",\r\n');
  });

  it.each([
    ['=1+1', "'=1+1"],
    ['@SUM(A1)', "'@SUM(A1)"],
    ['-2+3', "'-2+3"],
    ['+49 1', "'+49 1"],
    ['\t=1', "'\t=1"],
    ['＝1', "'＝1"],
    ['a=1', 'a=1'],
    [-3.2, '-3.2'],
    [Number.NaN, ''],
    [true, 'yes'],
    [null, ''],
  ])('%j is written as %j', (cell, written) => {
    expect(safeCell(cell)).toBe(written);
  });

  it('is read back by an independent parser, formulas defused', () => {
    const cell = fc.oneof(fc.string({ unit: 'grapheme' }), fc.constantFrom('=1', '"', ',', '\r\n', "'", '-'));
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell), { minLength: 1 }), (rows) => {
        const read: string[][] = parse(csvRows(rows), { relax_column_count: false, skip_empty_lines: false });
        expect(read).toEqual(rows.map((row) => row.map(safeCell)));
        for (const text of read.flat()) expect(text).not.toMatch(/^[=+@\t\r]/);
      }),
    );
  });
});

describe('file names', () => {
  it.each([
    ['Königin "7"\r\nX: y', 'Ko-nigin-7-X-y'],
    ['../../etc/passwd', 'etc-passwd'],
    ['', 'export'],
    ['…', 'export'],
  ])('%j becomes %j', (text, name) => {
    expect(fileSafe(text)).toBe(name);
  });
});
