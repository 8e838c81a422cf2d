/** Sealed days: one compact blob a channel and UTC day; times that several channels share are stored once. */
import type { Context } from '../context.ts';
import { decodeDay, decodeTimes, encodeDay, encodeTimes } from './day-codec.ts';
import {
  dateOf,
  dayKey,
  dayMs,
  dayOf,
  dayOfKey,
  daysPerChannel,
  lowerBound,
  type DayReadings,
} from './day-readings.ts';
import { groupByTimes, type ChannelDay } from './shared-times.ts';

/** Lowest day whose raw readings are kept; stored as a mark, in ms. */
export const keptFromMark = 'raw-kept-from';

/** Times that take fewer bytes than this are cheaper beside each channel's values than as a row of their own. */
const worthSharingBytes = 48;

type BlobRow = [id: number, readings: Uint8Array, times: Uint8Array | null];

const selectBlobs = `SELECT reading_day.id, readings, times FROM reading_day
  LEFT JOIN reading_times ON reading_times.id = times_id`;

export class SealedDays {
  /** First UTC day whose raw readings are kept. */
  keptFromDay = 0;
  readonly #unreadable: Context['unreadable'];
  /** Keys of days that could not be read. */
  readonly #unreadableDays = new Set<number>();
  readonly #one;
  readonly #span;
  readonly #put;
  readonly #putTimes;
  readonly #releaseTimes;
  readonly #dropUnusedTimes;
  readonly #drop;
  readonly #setAside;
  readonly #timesTaken;
  readonly #kept;
  /** The day that late readings were checked against last. */
  #recent: { key: number; readings: DayReadings } | undefined;

  constructor({ db, unreadable }: Context) {
    this.#unreadable = unreadable;
    this.#one = db.prepare<[number], BlobRow>(`${selectBlobs} WHERE reading_day.id = ?`).raw();
    this.#span = db
      .prepare<[number, number], BlobRow>(
        `${selectBlobs} WHERE reading_day.id BETWEEN ? AND ? ORDER BY reading_day.id`,
      )
      .raw();
    this.#put = db.prepare<[number, number | null, Uint8Array]>(
      'INSERT INTO reading_day (id, times_id, readings) VALUES (?, ?, ?)',
    );
    this.#putTimes = db.prepare<[number, number, Uint8Array]>(
      'INSERT INTO reading_times (id, uses, times) VALUES (?, ?, ?)',
    );
    this.#releaseTimes = db.prepare<[number, number]>(
      `UPDATE reading_times SET uses = uses - 1
       WHERE id IN (SELECT times_id FROM reading_day WHERE id BETWEEN ? AND ? AND times_id IS NOT NULL)`,
    );
    this.#dropUnusedTimes = db.prepare('DELETE FROM reading_times WHERE uses <= 0');
    this.#drop = db.prepare<[number, number]>('DELETE FROM reading_day WHERE id BETWEEN ? AND ?');
    this.#setAside = db.prepare<[number]>('UPDATE reading_day SET id = -id WHERE id = ?');
    this.#timesTaken = db.prepare<[number]>('SELECT 1 FROM reading_times WHERE id = ?');
    this.#kept = db.prepare<[string], number>('SELECT at_ms FROM mark WHERE name = ?').pluck();
  }

  load(): void {
    this.#recent = undefined;
    this.keptFromDay = dayOf(this.#kept.get(keptFromMark) ?? 0);
  }

  read(channelId: number, day: number): DayReadings | undefined {
    const row = this.#one.get(dayKey(channelId, day)) as BlobRow | undefined;
    return row && this.#decode(row)?.readings;
  }

  /** Sealed days of a channel in [fromDay, toDay], ascending. */
  readSpan(channelId: number, fromDay: number, toDay: number): { day: number; readings: DayReadings }[] {
    const rows = this.#span.all(dayKey(channelId, fromDay), dayKey(channelId, toDay)) as BlobRow[];
    return rows.flatMap((row) => this.#decode(row) ?? []);
  }

  microAt(channelId: number, atMs: number): number | undefined {
    const day = dayOf(atMs);
    const key = dayKey(channelId, day);
    if (this.#recent?.key !== key) {
      const readings = this.read(channelId, day);
      if (!readings) return undefined;
      this.#recent = { key, readings };
    }
    const { readings } = this.#recent;
    const at = lowerBound(readings.atMs, readings.length, atMs);
    return at < readings.length && readings.atMs[at] === atMs ? readings.micro[at] : undefined;
  }

  /** Writes or replaces one day of some channels, inside a transaction of the caller. */
  write(day: number, channels: readonly ChannelDay[]): void {
    this.#recent = undefined;
    // All of them first: times that only these days shared can then be shared anew.
    for (const { channelId } of channels) {
      // What can't be read is kept under a key that no day has: something of it may be saved by hand.
      const key = dayKey(channelId, day);
      if (this.#unreadableDays.delete(key)) this.#setAside.run(key);
      this.remove(channelId, day, day);
    }
    for (const group of groupByTimes(channels)) this.#writeGroup(day, group);
  }

  #writeGroup(day: number, group: readonly ChannelDay[]): void {
    const [first] = group;
    if (!first) return;
    const timesId = dayKey(first.channelId, day);
    const times = group.length > 1 ? encodeTimes(first.readings, day * dayMs) : undefined;
    const shared = times !== undefined && times.length >= worthSharingBytes && !this.#timesTaken.get(timesId);
    if (shared) this.#putTimes.run(timesId, group.length, times);
    for (const { channelId, readings } of group) {
      const blob = encodeDay(readings, day * dayMs, { withoutTimes: shared });
      this.#put.run(dayKey(channelId, day), shared ? timesId : null, blob);
    }
  }

  /** Drops days of a channel; how many there were. Inside a transaction of the caller. */
  remove(channelId: number, fromDay: number, toDay: number): number {
    const span = [dayKey(channelId, fromDay), dayKey(channelId, toDay)] as const;
    if (this.#releaseTimes.run(...span).changes > 0) this.#dropUnusedTimes.run();
    return this.#drop.run(...span).changes;
  }

  #decode([id, readings, times]: BlobRow): { day: number; readings: DayReadings } | undefined {
    const day = dayOfKey(id);
    const start = day * dayMs;
    const channel = Math.floor(id / daysPerChannel);
    const decoded = this.#unreadable.read('readings', `of channel ${String(channel)} on ${dateOf(day)}`, () =>
      decodeDay(readings, start, times ? decodeTimes(times, start) : undefined),
    );
    if (!decoded) this.#unreadableDays.add(id);
    return decoded && { day, readings: decoded };
  }
}
