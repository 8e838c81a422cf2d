/** Readings of one channel from a CSV file with a header row that names at least `time` and `value`. */
import { CsvError, parse } from 'csv-parse';
import type { Readable } from 'node:stream';
import * as z from 'zod';
import type { IncomingReading } from '../../store/port.ts';
import type { Store } from '../../store/store.ts';
import type { StoredUnit } from '../../units.ts';
import { rawCounts, toStoredUnit } from '../../units.ts';
import { isoTime } from '../../contract/common.ts';
import { UserError } from '../../user-error.ts';
import { msOf } from '../../farm/wire.ts';
import type { CsvTarget } from './csv-target.ts';
import type { ImportReport } from './import-report.ts';
import { newReport, refuse } from './import-report.ts';
import { suspectReasons } from './lines.ts';
import { createPace } from './pace.ts';

const rowSchema = z.object({
  time: isoTime,
  // A comma for the decimal point would have split the cell: the columns would not fit.
  value: z.string().regex(/^[+-]?\d+(\.\d+)?([eE][+-]?\d+)?$/, 'not a number with a decimal point'),
  unit: z.string().optional(),
  suspect: z.union([z.literal(''), z.enum(suspectReasons)]).optional(),
});
const aBatch = 1000;
const longestRow = 10_000;

const strayQuote = 'a quote stands where none can: inside a value in quotes it is doubled';
/** What the parser calls it, in words. */
const faults: Readonly<Partial<Record<string, string>>> = {
  CSV_RECORD_INCONSISTENT_COLUMNS:
    'it has more or fewer values than the first line names (between them a comma is wanted)',
  CSV_QUOTE_NOT_CLOSED: 'a quote is opened and never closed',
  CSV_INVALID_CLOSING_QUOTE: strayQuote,
  INVALID_OPENING_QUOTE: strayQuote,
  CSV_MAX_RECORD_SIZE: `it is longer than ${longestRow.toLocaleString('en')} bytes`,
};

function toReading(row: unknown, target: CsvTarget, receivedAtMs: number): IncomingReading | string {
  const parsed = rowSchema.safeParse(row);
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    return `${issue?.path.join('.') ?? ''}: ${issue?.message ?? 'not valid'}`;
  }
  const { time, value, unit, suspect } = parsed.data;
  const given = unit ?? target.unit;
  const converted = toStoredUnit(target.quantity, Number(value), given);
  if (!converted.ok) return converted.reason;
  return {
    sensor: target.sensor,
    quantity: target.quantity,
    probe: target.probe,
    unit: converted.unit satisfies StoredUnit,
    value: converted.value,
    observedAtMs: msOf(time),
    receivedAtMs,
    ...(suspect === undefined || suspect === ''
      ? given === rawCounts && { suspect: 'uncalibrated' }
      : { suspect }),
  };
}

function commit(
  store: Store,
  report: ImportReport,
  batch: readonly IncomingReading[],
  lastLine: number,
): void {
  const { stored, duplicates, conflicts } = store.ingest.commit({
    readings: batch,
    quarantined: [],
    lastKnown: [],
  });
  report.added += stored.length;
  report.alreadyThere += duplicates;
  const quarantined = batch.length - stored.length - duplicates - conflicts;
  if (conflicts > 0)
    refuse(
      report,
      lastLine,
      `${String(conflicts)} readings up to here differ from those that are there, which stay.`,
    );
  if (quarantined > 0)
    refuse(report, lastLine, `${String(quarantined)} readings up to here can’t be: see the quarantine.`);
}

/** A row that won't do is reported and the others go on. Throws `UserError` for a file that is no such CSV. */
export async function importCsv(
  store: Store,
  target: CsvTarget,
  bytes: Readable,
  nowMs: () => number,
): Promise<ImportReport> {
  const report = newReport();
  let batch: IncomingReading[] = [];
  let line = 1;
  const pace = createPace();
  const rows = bytes.pipe(parse({ columns: true, bom: true, max_record_size: longestRow, info: true }));
  bytes.once('error', (error) => rows.destroy(error));
  try {
    for await (const { record, info } of rows as AsyncIterable<{
      record: unknown;
      info: { lines: number };
    }>) {
      line = info.lines;
      const reading = toReading(record, target, nowMs());
      if (typeof reading !== 'string') batch.push(reading);
      else if (!refuse(report, line, reading)) break;
      await pace.rest();
      if (batch.length < aBatch) continue;
      commit(store, report, batch, line);
      batch = [];
    }
  } catch (error) {
    if (error instanceof CsvError) {
      const where = `line ${String(error['lines'])}`;
      throw new UserError(
        'invalid-input',
        `This file is not CSV as expected in ${where}: ${faults[error.code] ?? 'it can’t be read'}; what came before was taken in.`,
      );
    }
    throw error;
  } finally {
    if (batch.length > 0) commit(store, report, batch, line);
  }
  return { ...report, complete: report.stopped === undefined };
}
