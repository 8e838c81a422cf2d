/** Whether every row of a database can be read: for one that carries no digest. */
import type Database from 'better-sqlite3';
import { toAlert } from '../alerts.ts';
import { toCalibration } from '../readings/calibration.ts';
import { toDelivery } from '../deliveries.ts';
import { hoursOf } from '../forecasts.ts';
import { toHiveVisit } from '../field-log/hive-visits.ts';
import { toEntry, toIntroduction } from '../field-log/introductions.ts';
import { toMapping } from '../channels/mappings.ts';
import { toPerson } from '../people.ts';
import { toHive } from '../places/hives.ts';
import { checkReadings } from '../readings/check-readings.ts';
import { parseSetting } from '../settings.ts';

type Row = Readonly<Record<string, unknown>>;
// Rows as SQLite gives them: each reader knows the columns of its own table.
type Reader = (row: never) => unknown;

const readers: Readonly<Record<string, Reader>> = {
  alert: toAlert,
  calibration: toCalibration,
  delivery: toDelivery,
  forecast: hoursOf,
  hive: toHive,
  hive_visit: toHiveVisit,
  introduction: toIntroduction,
  log_entry: toEntry,
  mapping: toMapping,
  person: toPerson,
  setting: parseSetting,
  setting_change: ({ before, after }: { before: string | null; after: string | null }) => {
    if (before !== null) JSON.parse(before);
    if (after !== null) JSON.parse(after);
  },
};

/** Throws an `Error` that names the first row that can't be read. */
export function checkRows(db: Database.Database): void {
  const tables = db.prepare<[], string>("SELECT name FROM sqlite_schema WHERE type = 'table'").pluck().all();
  for (const [table, read] of Object.entries(readers)) {
    if (!tables.includes(table)) continue;
    let n = 0;
    for (const row of db.prepare<[], Row>(`SELECT * FROM "${table}"`).iterate()) {
      n += 1;
      try {
        read(row as never);
      } catch (error) {
        throw new Error(
          `row ${String(n)} of "${table}" can't be read (${error instanceof Error ? oneLine(error.message) : String(error)})`,
          { cause: error },
        );
      }
    }
  }
  checkReadings(db);
}

const oneLine = (text: string): string => text.replaceAll(/\s+/g, ' ').slice(0, 200);
