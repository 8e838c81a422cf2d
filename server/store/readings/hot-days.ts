/**
 * The hot layer: what came in since its day was sealed. On disk one row a group commit and day, in the order in which
 * they came, which is what spares the card; in memory by channel and day, read once at the start and following every
 * commit, so that one channel's readings need not be picked out of everybody's.
 */
import type { Context } from '../context.ts';
import { dateOf, DayBuffer, dayMs, dayOf } from './day-readings.ts';
import { decodeHot, encodeHot, type HotReading } from './hot-codec.ts';

/** Rows are keyed day by day: id = day × 2^32 + a number that counts up. */
export const rowsPerDay = 2 ** 32;

export class HotDays {
  readonly #byChannel = new Map<number, Map<number, DayBuffer>>();
  readonly #unreadable: Context['unreadable'];
  /** Rows that could not be read; they are never sealed, and stay. */
  #unreadableRows: number[] = [];
  readonly #rows;
  readonly #insert;
  readonly #remove;
  readonly #lastRow;
  readonly #ofDay;
  readonly #change;
  readonly #removeRow;
  #count = 0;

  constructor({ db, unreadable }: Context) {
    this.#unreadable = unreadable;
    this.#rows = db.prepare<[], [number, Uint8Array]>('SELECT id, readings FROM reading_hot').raw();
    this.#insert = db.prepare<[number, Uint8Array]>('INSERT INTO reading_hot (id, readings) VALUES (?, ?)');
    this.#remove = db.prepare<[number, number, string]>(
      'DELETE FROM reading_hot WHERE id >= ? AND id < ? AND id NOT IN (SELECT value FROM json_each(?))',
    );
    this.#ofDay = db
      .prepare<[number, number], [number, Uint8Array]>(
        'SELECT id, readings FROM reading_hot WHERE id >= ? AND id < ?',
      )
      .raw();
    this.#change = db.prepare<[Uint8Array, number]>('UPDATE reading_hot SET readings = ? WHERE id = ?');
    this.#removeRow = db.prepare<[number]>('DELETE FROM reading_hot WHERE id = ?');
    this.#lastRow = db
      .prepare<[number, number], number | null>('SELECT max(id) FROM reading_hot WHERE id >= ? AND id < ?')
      .pluck();
  }

  load(): void {
    this.#byChannel.clear();
    this.#count = 0;
    this.#unreadableRows = [];
    for (const [id, readings] of this.#rows.iterate() as IterableIterator<[number, Uint8Array]>) {
      const day = Math.floor(id / rowsPerDay);
      for (const reading of this.#decode(id, readings, day)) this.follow(reading);
    }
  }

  #decode(id: number, bytes: Uint8Array, day: number): HotReading[] {
    const readings = this.#unreadable.read('readings', `that came in on ${dateOf(day)}, ${String(id)}`, () =>
      decodeHot(bytes, day * dayMs),
    );
    if (!readings) this.#unreadableRows.push(id);
    return readings ?? [];
  }

  /** Writes new readings, inside a transaction of the caller; memory follows when that is durable. */
  write(readings: readonly HotReading[]): void {
    const byDay = new Map<number, HotReading[]>();
    for (const reading of readings) {
      const day = dayOf(reading.atMs);
      const same = byDay.get(day);
      if (same) same.push(reading);
      else byDay.set(day, [reading]);
    }
    for (const [day, same] of byDay) this.#insert.run(this.#nextRow(day), encodeHot(same, day * dayMs));
  }

  #nextRow(day: number): number {
    const first = day * rowsPerDay;
    return (this.#lastRow.get(first, first + rowsPerDay) ?? first - 1) + 1;
  }

  /** A reading that is durable now. */
  follow(reading: HotReading): void {
    let days = this.#byChannel.get(reading.channelId);
    if (!days) this.#byChannel.set(reading.channelId, (days = new Map<number, DayBuffer>()));
    const day = dayOf(reading.atMs);
    let buffer = days.get(day);
    if (!buffer) days.set(day, (buffer = new DayBuffer()));
    if (buffer.insert(reading.atMs, reading.micro, reading.flag, reading.receivedS)) this.#count += 1;
  }

  /** Readings that wait to be sealed. */
  get readings(): number {
    return this.#count;
  }

  day(channelId: number, day: number): DayBuffer | undefined {
    return this.#byChannel.get(channelId)?.get(day);
  }

  microAt(channelId: number, atMs: number): number | undefined {
    return this.day(channelId, dayOf(atMs))?.microAt(atMs);
  }

  /** Days of a channel that have hot readings, ascending. */
  daysOf(channelId: number): number[] {
    return [...(this.#byChannel.get(channelId)?.keys() ?? [])].sort((a, b) => a - b);
  }

  channels(): number[] {
    return [...this.#byChannel.keys()];
  }

  /** All channels of a day, inside a transaction of the caller; `forget` them when that is durable. */
  removeDay(day: number): void {
    this.#remove.run(day * rowsPerDay, (day + 1) * rowsPerDay, JSON.stringify(this.#unreadableRows));
  }

  /** Everything of these channels, inside a transaction of the caller; `forget` them when that is durable. */
  removeChannels(channels: ReadonlySet<number>): void {
    const days = new Set([...channels].flatMap((id) => this.daysOf(id)));
    for (const day of days) {
      const rows = this.#ofDay.all(day * rowsPerDay, (day + 1) * rowsPerDay) as [number, Uint8Array][];
      for (const [id, bytes] of rows) {
        const before = this.#decode(id, bytes, day);
        // One that can't be read stays as it is.
        if (before.length === 0) continue;
        const left = before.filter(({ channelId }) => !channels.has(channelId));
        if (left.length === 0) this.#removeRow.run(id);
        else if (left.length < before.length) this.#change.run(encodeHot(left, day * dayMs), id);
      }
    }
  }

  /** After a day was sealed, or a channel removed: its readings are not in this layer any more. */
  forget(channelId: number, day: number): void {
    const days = this.#byChannel.get(channelId);
    const buffer = days?.get(day);
    if (!days || !buffer) return;
    this.#count -= buffer.length;
    days.delete(day);
    if (days.size === 0) this.#byChannel.delete(channelId);
  }
}
