/**
 * The hot table in memory, by channel and day: the table itself is ordered by time, which is what spares the card,
 * and one channel's readings would have to be picked out of everybody's. It is read once at the start and follows
 * every commit.
 */
import type { Context } from '../context.ts';
import { DayBuffer, dayOf } from './day-readings.ts';

export interface HotReading {
  readonly channelId: number;
  readonly atMs: number;
  readonly micro: number;
  readonly flag: number;
  /** 0 where it came in within a minute of the time that it tells. */
  readonly receivedS: number;
}

type HotRow = [atMs: number, channelId: number, micro: number, flag: number, receivedS: number | null];

export class HotDays {
  private readonly byChannel = new Map<number, Map<number, DayBuffer>>();
  private readonly rows;
  private count = 0;

  constructor({ db }: Context) {
    this.rows = db
      .prepare<[], HotRow>('SELECT at_ms, channel_id, micro, flag, received_s FROM reading_hot')
      .raw();
  }

  load(): void {
    this.byChannel.clear();
    this.count = 0;
    for (const [atMs, channelId, micro, flag, receivedS] of this.rows.iterate() as IterableIterator<HotRow>) {
      this.add({ channelId, atMs, micro, flag, receivedS: receivedS ?? 0 });
    }
  }

  add(reading: HotReading): void {
    let days = this.byChannel.get(reading.channelId);
    if (!days) this.byChannel.set(reading.channelId, (days = new Map<number, DayBuffer>()));
    const day = dayOf(reading.atMs);
    let buffer = days.get(day);
    if (!buffer) days.set(day, (buffer = new DayBuffer()));
    if (buffer.insert(reading.atMs, reading.micro, reading.flag, reading.receivedS)) this.count += 1;
  }

  /** Readings that wait to be sealed. */
  get readings(): number {
    return this.count;
  }

  day(channelId: number, day: number): DayBuffer | undefined {
    return this.byChannel.get(channelId)?.get(day);
  }

  /** Days of a channel that have hot readings, ascending. */
  daysOf(channelId: number): number[] {
    return [...(this.byChannel.get(channelId)?.keys() ?? [])].sort((a, b) => a - b);
  }

  channels(): number[] {
    return [...this.byChannel.keys()];
  }

  /** After a day was sealed: its readings are in the sealed layer now. */
  drop(channelId: number, day: number): void {
    const days = this.byChannel.get(channelId);
    const buffer = days?.get(day);
    if (!days || !buffer) return;
    this.count -= buffer.length;
    days.delete(day);
    if (days.size === 0) this.byChannel.delete(channelId);
  }
}
