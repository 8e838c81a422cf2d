/** Whether every reading that is stored can be read, and its roll-ups are those of the readings. */
import type Database from 'better-sqlite3';
import { decodeDay, decodeTimes } from './day-codec.ts';
import {
  dateOf,
  dayMs,
  dayOf,
  dayOfKey,
  daysPerChannel,
  suspectReason,
  type DayReadings,
} from './day-readings.ts';
import { decodeHot } from './hot-codec.ts';
import { rowsPerDay } from './hot-days.ts';
import { decodeHours, HourColumns, hoursOf, wholeDay, type Bucket, type HourBucket } from './rollup.ts';

interface DayRow {
  readonly id: number;
  readonly readings: Uint8Array;
  readonly times: Uint8Array | null;
}

interface RollupRow {
  readonly id: number;
  readonly count: number;
  readonly min: number | null;
  readonly max: number | null;
  readonly sum: number | null;
  readonly last: number | null;
  readonly hours: Uint8Array;
}

/** Throws an `Error` that names the first that can't be read. */
export function checkReadings(db: Database.Database): void {
  for (const [id, bytes] of db
    .prepare<[], [number, Uint8Array]>('SELECT id, readings FROM reading_hot')
    .raw()
    .iterate() as IterableIterator<[number, Uint8Array]>)
    named(`readings that were not packed yet, ${String(id)}`, () => {
      checkHot(bytes, Math.floor(id / rowsPerDay));
    });
  const rollup = db.prepare<[number], RollupRow>('SELECT * FROM rollup_day WHERE id = ?');
  const days = db.prepare<[], DayRow>(
    `SELECT reading_day.id, readings, times FROM reading_day
     LEFT JOIN reading_times ON reading_times.id = times_id WHERE reading_day.id >= 0`,
  );
  for (const { id, readings, times } of days.iterate())
    named(nameOf(id), () => {
      const start = dayOfKey(id) * dayMs;
      const day = decodeDay(readings, start, times ? decodeTimes(times, start) : undefined);
      checkDay(day, start);
      const stored = rollup.get(id);
      if (stored) compare(hoursOf(day, start), stored);
    });
  for (const row of db.prepare<[], RollupRow>('SELECT * FROM rollup_day').iterate())
    named(`${nameOf(row.id)}, hour by hour`, () => {
      checkWholeDay(readHours(row), row);
    });
}

const nameOf = (id: number): string =>
  `the readings of channel ${String(Math.floor(id / daysPerChannel))} on ${dateOf(dayOfKey(id))}`;

function named(what: string, look: () => void): void {
  try {
    look();
  } catch (error) {
    throw new Error(`${what} can't be read (${error instanceof Error ? error.message : String(error)})`, {
      cause: error,
    });
  }
}

function checkHot(bytes: Uint8Array, day: number): void {
  for (const { atMs, micro, flag, receivedS } of decodeHot(bytes, day * dayMs))
    checkReading({ atMs, micro, flag, receivedS }, day * dayMs);
}

function checkDay({ length, atMs, micro, flag, receivedS }: DayReadings, startMs: number): void {
  for (let i = 0; i < length; i += 1) {
    const at = atMs[i] ?? NaN;
    checkReading(
      { atMs: at, micro: micro[i] ?? NaN, flag: flag[i] ?? 0, receivedS: receivedS[i] ?? 0 },
      startMs,
    );
    if (i > 0 && at <= (atMs[i - 1] ?? 0)) throw new RangeError('its times do not ascend');
  }
}

interface Checked {
  readonly atMs: number;
  readonly micro: number;
  readonly flag: number;
  readonly receivedS: number;
}

function checkReading({ atMs, micro, flag, receivedS }: Checked, startMs: number): void {
  if (!Number.isSafeInteger(atMs) || dayOf(atMs) * dayMs !== startMs)
    throw new RangeError('a time lies outside its day');
  if (!Number.isSafeInteger(micro)) throw new RangeError('a value is no number');
  if (flag !== 0 && suspectReason(flag) === undefined) throw new RangeError('a flag is unknown');
  if (!Number.isSafeInteger(receivedS) || receivedS < 0) throw new RangeError('a receipt is no instant');
}

function readHours({ hours }: RollupRow): HourBucket[] {
  const { length, hour, count, min, max, sum, last } = decoded(hours);
  return Array.from({ length }, (_, i) => ({
    hour: hour[i] ?? NaN,
    count: count[i] ?? NaN,
    min: min[i] ?? NaN,
    max: max[i] ?? NaN,
    sum: sum[i] ?? NaN,
    last: last[i] ?? NaN,
  }));
}

function decoded(hours: Uint8Array): HourColumns {
  const columns = new HourColumns();
  decodeHours(hours, columns);
  return columns;
}

function compare(made: readonly HourBucket[], stored: RollupRow): void {
  const kept = readHours(stored);
  const same =
    made.length === kept.length &&
    made.every((one, i) => kept[i]?.hour === one.hour && isSame(one, kept[i] as Bucket));
  if (!same) throw new RangeError('they are not those of which the hours were made');
}

function checkWholeDay(hours: readonly HourBucket[], { count, min, max, sum, last }: RollupRow): void {
  const whole = wholeDay(hours);
  const same = whole
    ? isSame(whole, { count, min: min ?? NaN, max: max ?? NaN, sum: sum ?? NaN, last: last ?? NaN })
    : count === 0 && min === null;
  if (!same) throw new RangeError('the day is not the sum of its hours');
}

const isSame = (a: Bucket, b: Bucket): boolean =>
  a.count === b.count && a.min === b.min && a.max === b.max && a.sum === b.sum && a.last === b.last;
