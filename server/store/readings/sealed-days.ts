/** Sealed days: one compact blob a channel and UTC day. */
import type { Context } from '../context.ts';
import { decodeDay, encodeDay } from './day-codec.ts';
import { dayKey, dayMs, dayOf, dayOfKey, lowerBound, type DayReadings } from './day-readings.ts';

/** Lowest day whose raw readings are kept; stored as a mark, in ms. */
export const keptFromMark = 'raw-kept-from';

interface BlobRow {
  readonly id: number;
  readonly readings: Uint8Array;
}

export class SealedDays {
  /** First UTC day whose raw readings are kept. */
  keptFromDay = 0;
  private readonly one;
  private readonly span;
  private readonly put;
  private readonly kept;
  /** The day that late readings were checked against last. */
  private recent: { key: number; readings: DayReadings } | undefined;

  constructor(context: Context) {
    const { db } = context;
    this.one = db.prepare<[number], Uint8Array>('SELECT readings FROM reading_day WHERE id = ?').pluck();
    this.span = db.prepare<[number, number], BlobRow>(
      'SELECT id, readings FROM reading_day WHERE id BETWEEN ? AND ? ORDER BY id',
    );
    this.put = db.prepare<[number, Uint8Array]>(
      'INSERT INTO reading_day (id, readings) VALUES (?, ?) ON CONFLICT (id) DO UPDATE SET readings = excluded.readings',
    );
    this.kept = db.prepare<[string], number>('SELECT at_ms FROM mark WHERE name = ?').pluck();
  }

  load(): void {
    this.recent = undefined;
    this.keptFromDay = dayOf(this.kept.get(keptFromMark) ?? 0);
  }

  read(channelId: number, day: number): DayReadings | undefined {
    const blob = this.one.get(dayKey(channelId, day));
    return blob && decodeDay(blob, day * dayMs);
  }

  /** Sealed days of a channel in [fromDay, toDay], ascending. */
  readSpan(channelId: number, fromDay: number, toDay: number): { day: number; readings: DayReadings }[] {
    return this.span.all(dayKey(channelId, fromDay), dayKey(channelId, toDay)).map((row) => {
      const day = dayOfKey(row.id);
      return { day, readings: decodeDay(row.readings, day * dayMs) };
    });
  }

  microAt(channelId: number, atMs: number): number | undefined {
    const day = dayOf(atMs);
    const key = dayKey(channelId, day);
    if (this.recent?.key !== key) {
      const readings = this.read(channelId, day);
      if (!readings) return undefined;
      this.recent = { key, readings };
    }
    const { readings } = this.recent;
    const at = lowerBound(readings.atMs, readings.length, atMs);
    return readings.atMs[at] === atMs && at < readings.length ? readings.micro[at] : undefined;
  }

  /** Inside a transaction of the caller. */
  write(channelId: number, day: number, readings: DayReadings): void {
    const key = dayKey(channelId, day);
    if (this.recent?.key === key) this.recent = undefined;
    this.put.run(key, encodeDay(readings, day * dayMs));
  }
}
