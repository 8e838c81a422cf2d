/** Both layers as one: what is hot, what is sealed, and the newest reading of each channel. */
import type { Context } from '../context.ts';
import { dayOf, mergeDays, type DayReadings } from './day-readings.ts';
import type { HotReading } from './hot-codec.ts';
import { HotDays } from './hot-days.ts';
import { Latest } from './latest.ts';
import { SealedDays } from './sealed-days.ts';

const none: DayReadings = {
  length: 0,
  atMs: new Float64Array(0),
  micro: new Float64Array(0),
  flag: new Uint8Array(0),
  receivedS: new Float64Array(0),
};

export class ReadingLayers {
  readonly hot: HotDays;
  readonly sealed: SealedDays;
  readonly latest: Latest;
  readonly #context: Context;
  #version = -1;

  constructor(context: Context) {
    this.#context = context;
    this.hot = new HotDays(context);
    this.sealed = new SealedDays(context);
    this.latest = new Latest(context, this.hot);
    this.refresh();
  }

  /** Memory reads the file again where another connection wrote to it (a command beside the running server). */
  refresh(): void {
    const version = this.#context.foreignVersion();
    if (version === this.#version) return;
    this.reload();
    this.#version = version;
  }

  reload(): void {
    this.sealed.load();
    this.hot.load();
    this.latest.load();
  }

  /** A reading that is durable in the hot table now. */
  follow(reading: HotReading): void {
    this.hot.follow(reading);
    this.latest.add(reading.channelId, reading.atMs, reading.micro, reading.flag);
  }

  /** A channel that was removed from all tables. */
  forget(channelId: number): void {
    for (const day of this.hot.daysOf(channelId)) this.hot.forget(channelId, day);
    this.latest.forget(channelId);
    this.sealed.load();
  }

  /** The value that is stored at this very time, if any. */
  microAt(channelId: number, atMs: number): number | undefined {
    const hot = this.hot.microAt(channelId, atMs);
    if (hot !== undefined || atMs > this.latest.sealedUntil(channelId)) return hot;
    return this.sealed.microAt(channelId, atMs);
  }

  /** Why a reading of this time can't be checked against what is stored, if so. */
  whyTooOld(atMs: number): string | undefined {
    return dayOf(atMs) < this.sealed.keptFromDay
      ? 'it is older than the raw readings that are kept, so that it can’t be told from one already counted'
      : undefined;
  }

  /** All readings of a channel on one day, hot and sealed. */
  day(channelId: number, day: number): DayReadings {
    const hot = this.hot.day(channelId, day) ?? none;
    const sealed = this.sealed.read(channelId, day) ?? none;
    return mergeDays(sealed, hot);
  }
}
