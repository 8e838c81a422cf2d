/** The table of roll-ups, one row a channel and sealed day. */
import type { Context } from '../context.ts';
import { dayKey, dayMs, dayOfKey, daysPerChannel, type DayReadings } from './day-readings.ts';
import {
  decodeHours,
  encodeHours,
  HourColumns,
  hoursOf,
  wholeDay,
  type Bucket,
  type HourBucket,
} from './rollup.ts';

interface RollupRow {
  readonly id: number;
  readonly count: number;
  readonly min: number | null;
  readonly max: number | null;
  readonly sum: number | null;
  readonly last: number | null;
}

export interface DayBucket extends Bucket {
  /** UTC day since 1970. */
  readonly day: number;
}

type EncodedHours = readonly [id: number, hours: Uint8Array];

export class RollupDays {
  readonly #daySpan;
  readonly #hourSpan;
  readonly #put;
  readonly #aloneSpan;
  readonly #taken;
  readonly #hourColumns = new HourColumns();

  constructor(context: Context) {
    this.#daySpan = context.db.prepare<[number, number], RollupRow>(
      'SELECT id, count, min, max, sum, last FROM rollup_day WHERE id BETWEEN ? AND ? ORDER BY id',
    );
    this.#hourSpan = context.db
      .prepare<[number, number], EncodedHours>(
        'SELECT id, hours FROM rollup_day WHERE id BETWEEN ? AND ? ORDER BY id',
      )
      .raw();
    this.#aloneSpan = context.db
      .prepare<[number, number], EncodedHours>(
        `SELECT id, hours FROM rollup_day WHERE id BETWEEN ? AND ? AND id NOT IN (SELECT id FROM reading_day) ORDER BY id`,
      )
      .raw();
    this.#taken = context.db.prepare<[number]>('SELECT 1 FROM rollup_day WHERE id = ?');
    this.#put = context.db.prepare<
      [number, number, number | null, number | null, number | null, number | null, Uint8Array]
    >(
      'INSERT OR REPLACE INTO rollup_day (id, count, min, max, sum, last, hours) VALUES (?, ?, ?, ?, ?, ?, ?)',
    );
  }

  days(channelId: number, fromDay: number, toDay: number): DayBucket[] {
    return this.#daySpan.all(dayKey(channelId, fromDay), dayKey(channelId, toDay)).flatMap((row) => {
      const { count, min, max, sum, last } = row;
      if (min === null || max === null || sum === null || last === null) return [];
      return [{ day: dayOfKey(row.id), count, min, max, sum, last }];
    });
  }

  /** Ascending, undecoded; `decoded` has the hours of one. */
  hours(channelId: number, fromDay: number, toDay: number): EncodedHours[] {
    return this.#hourSpan.all(dayKey(channelId, fromDay), dayKey(channelId, toDay));
  }

  /** Ascending, undecoded: of days whose raw readings are gone. */
  alone(channelId: number): EncodedHours[] {
    return this.#aloneSpan.all(dayKey(channelId, 0), dayKey(channelId, daysPerChannel - 1));
  }

  has(channelId: number, day: number): boolean {
    return this.#taken.get(dayKey(channelId, day)) !== undefined;
  }

  /** The columns are those of the next day after the next call. */
  decoded([, hours]: EncodedHours): HourColumns {
    decodeHours(hours, this.#hourColumns);
    return this.#hourColumns;
  }

  /** Inside a transaction of the caller. */
  write(channelId: number, day: number, readings: DayReadings): void {
    this.writeHours(channelId, day, hoursOf(readings, day * dayMs));
  }

  /** Inside a transaction of the caller. @param hours of the day, ascending */
  writeHours(channelId: number, day: number, hours: readonly HourBucket[]): void {
    const whole = wholeDay(hours);
    this.#put.run(
      dayKey(channelId, day),
      whole?.count ?? 0,
      whole?.min ?? null,
      whole?.max ?? null,
      whole?.sum ?? null,
      whole?.last ?? null,
      encodeHours(hours),
    );
  }
}
