/** The newest reading of each channel: a small table for what is sealed, the hot days for what came since. */
import type { Context } from '../context.ts';
import type { HotDays } from './hot-days.ts';

export interface LatestOfChannel {
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

export class Latest {
  private readonly context: Context;
  private readonly hot: HotDays;
  private readonly sealed = new Map<number, LatestOfChannel>();
  private readonly current = new Map<number, LatestOfChannel>();
  private dataVersion = -1;

  constructor(context: Context, hot: HotDays) {
    this.context = context;
    this.hot = hot;
  }

  refresh(): void {
    const version = this.context.db.pragma('data_version', { simple: true }) as number;
    if (version === this.dataVersion) return;
    this.hot.refresh();
    this.sealed.clear();
    this.current.clear();
    for (const row of this.context.db.prepare<[], LatestRow>('SELECT * FROM latest').all()) {
      const { channel_id: id, readings, first_ms: firstMs, at_ms: atMs, micro, flag } = row;
      this.sealed.set(id, { readings, firstMs, atMs, micro, flag });
      this.current.set(id, { readings, firstMs, atMs, micro, flag });
    }
    for (const channelId of this.hot.channels()) this.addHotDays(channelId);
    this.dataVersion = version;
  }

  private addHotDays(channelId: number): void {
    for (const day of this.hot.daysOf(channelId)) {
      const buffer = this.hot.day(channelId, day);
      for (let i = 0; buffer && i < buffer.length; i += 1) {
        this.add(channelId, buffer.atMs[i] ?? 0, buffer.micro[i] ?? 0, buffer.flag[i] ?? 0);
      }
    }
  }

  of(channelId: number): LatestOfChannel | undefined {
    return this.current.get(channelId);
  }

  /** Newest sealed instant of a channel: what is later than that can't be in a sealed day. */
  sealedUntil(channelId: number): number {
    return this.sealed.get(channelId)?.atMs ?? -1;
  }

  /** One more reading was stored. */
  add(channelId: number, atMs: number, micro: number, flag: number): void {
    const before = this.current.get(channelId);
    const newest = !before || atMs > before.atMs;
    this.current.set(channelId, {
      readings: (before?.readings ?? 0) + 1,
      firstMs: Math.min(before?.firstMs ?? atMs, atMs),
      atMs: newest ? atMs : before.atMs,
      micro: newest ? micro : before.micro,
      flag: newest ? flag : before.flag,
    });
  }

  /** What `latest` holds for a channel after a sealing. */
  setSealed(channelId: number, sealed: LatestOfChannel): void {
    this.sealed.set(channelId, sealed);
  }

  sealedOf(channelId: number): LatestOfChannel | undefined {
    return this.sealed.get(channelId);
  }
}
