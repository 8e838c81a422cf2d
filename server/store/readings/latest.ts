/** The newest reading of each channel: a small table for what is sealed, the hot days for what came since. */
import type { Context } from '../context.ts';
import type { HotDays } from './hot-days.ts';

export interface LatestOfChannel {
  /** Ever stored, also those whose raw form has been dropped since. */
  readonly readings: number;
  readonly firstMs: number;
  readonly atMs: number;
  readonly micro: number;
  readonly flag: number;
}

interface LatestRow {
  readonly channel_id: number;
  readonly readings: number;
  readonly first_ms: number;
  readonly at_ms: number;
  readonly micro: number;
  readonly flag: number;
}

type Mutable = { -readonly [K in keyof LatestOfChannel]: LatestOfChannel[K] };

export class Latest {
  readonly #rows;
  readonly #hot: HotDays;
  readonly #sealed = new Map<number, LatestOfChannel>();
  readonly #current = new Map<number, Mutable>();

  constructor({ db }: Context, hot: HotDays) {
    this.#rows = db.prepare<[], LatestRow>('SELECT * FROM latest');
    this.#hot = hot;
  }

  /** After the hot days were loaded. */
  load(): void {
    this.#sealed.clear();
    this.#current.clear();
    for (const row of this.#rows.all()) {
      const { channel_id: id, readings, first_ms: firstMs, at_ms: atMs, micro, flag } = row;
      this.#sealed.set(id, { readings, firstMs, atMs, micro, flag });
      this.#current.set(id, { readings, firstMs, atMs, micro, flag });
    }
    for (const channelId of this.#hot.channels()) this.#addHotDays(channelId);
  }

  #addHotDays(channelId: number): void {
    for (const day of this.#hot.daysOf(channelId)) {
      const buffer = this.#hot.day(channelId, day);
      for (let i = 0; buffer && i < buffer.length; i += 1) {
        this.add(channelId, buffer.atMs[i] ?? 0, buffer.micro[i] ?? 0, buffer.flag[i] ?? 0);
      }
    }
  }

  of(channelId: number): LatestOfChannel | undefined {
    return this.#current.get(channelId);
  }

  /** Newest sealed instant of a channel: what is later than that can't be in a sealed day. */
  sealedUntil(channelId: number): number {
    return this.#sealed.get(channelId)?.atMs ?? -1;
  }

  /** One more reading was stored. */
  add(channelId: number, atMs: number, micro: number, flag: number): void {
    const known = this.#current.get(channelId);
    if (!known) {
      this.#current.set(channelId, { readings: 1, firstMs: atMs, atMs, micro, flag });
      return;
    }
    known.readings += 1;
    known.firstMs = Math.min(known.firstMs, atMs);
    if (atMs <= known.atMs) return;
    known.atMs = atMs;
    known.micro = micro;
    known.flag = flag;
  }

  /** What `latest` holds for a channel after a sealing. */
  setSealed(channelId: number, sealed: LatestOfChannel): void {
    this.#sealed.set(channelId, sealed);
  }

  /** With readings that are gone and were never counted here. */
  withPast(known: LatestOfChannel | undefined, past: LatestOfChannel): LatestOfChannel {
    if (!known) return past;
    const newest = past.atMs > known.atMs ? past : known;
    return {
      readings: known.readings + past.readings,
      firstMs: Math.min(known.firstMs, past.firstMs),
      atMs: newest.atMs,
      micro: newest.micro,
      flag: newest.flag,
    };
  }

  notePast(channelId: number, past: LatestOfChannel): void {
    this.#sealed.set(channelId, this.withPast(this.#sealed.get(channelId), past));
    this.#current.set(channelId, { ...this.withPast(this.#current.get(channelId), past) });
  }

  /** After a channel was removed. */
  forget(channelId: number): void {
    this.#sealed.delete(channelId);
    this.#current.delete(channelId);
  }

  sealedOf(channelId: number): LatestOfChannel | undefined {
    return this.#sealed.get(channelId);
  }
}
