/** The table of roll-ups, one row a channel and sealed day. */
import type { Context } from '../context.ts';
import { dayKey, dayMs, dayOfKey, type DayReadings } from './day-readings.ts';
import { decodeHours, encodeHours, hoursOf, wholeDay, type Bucket, type HourBucket } from './rollup.ts';

interface RollupRow {
  readonly id: number;
  readonly count: number;
  readonly min: number | null;
  readonly max: number | null;
  readonly sum: number | null;
  readonly last: number | null;
  readonly hours: Uint8Array;
}

export interface DayBucket extends Bucket {
  /** UTC day since 1970. */
  readonly day: number;
}

export class RollupDays {
  private readonly span;
  private readonly put;

  constructor(context: Context) {
    this.span = context.db.prepare<[number, number], RollupRow>(
      'SELECT * FROM rollup_day WHERE id BETWEEN ? AND ? ORDER BY id',
    );
    this.put = context.db.prepare<
      [number, number, number | null, number | null, number | null, number | null, Uint8Array]
    >(
      'INSERT OR REPLACE INTO rollup_day (id, count, min, max, sum, last, hours) VALUES (?, ?, ?, ?, ?, ?, ?)',
    );
  }

  days(channelId: number, fromDay: number, toDay: number): DayBucket[] {
    return this.span.all(dayKey(channelId, fromDay), dayKey(channelId, toDay)).flatMap((row) => {
      const { count, min, max, sum, last } = row;
      if (min === null || max === null || sum === null || last === null) return [];
      return [{ day: dayOfKey(row.id), count, min, max, sum, last }];
    });
  }

  hours(channelId: number, fromDay: number, toDay: number): { day: number; hours: HourBucket[] }[] {
    return this.span
      .all(dayKey(channelId, fromDay), dayKey(channelId, toDay))
      .map((row) => ({ day: dayOfKey(row.id), hours: decodeHours(row.hours) }));
  }

  /** Inside a transaction of the caller. */
  write(channelId: number, day: number, readings: DayReadings): void {
    const hours = hoursOf(readings, day * dayMs);
    const whole = wholeDay(hours);
    this.put.run(
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
