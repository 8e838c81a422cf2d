/** The background step that turns hot days into sealed ones. */
import type { Context } from '../context.ts';
import { dayOf, type DayReadings } from './day-readings.ts';
import type { LatestOfChannel } from './latest.ts';
import type { ReadingLayers } from './layers.ts';
import type { RollupDays } from './rollup-days.ts';
import type { ChannelDay } from './shared-times.ts';

export interface SealOptions {
  /** Days that ended before this instant are sealed; default: one hour ago. */
  readonly endedBeforeMs?: number;
  /** At most about so many channel-days in one transaction, whole days at a time; default 500. */
  readonly mostDays?: number;
  /**
   * A day is read, merged and written in pieces of about so many readings, because a large one must not be in memory
   * twice; default 200,000. Channels of two pieces don't share their times.
   */
  readonly mostAtOnce?: number;
}

export interface SealReport {
  readonly channelDays: number;
  readonly readings: number;
  /** There is more to seal: call again. */
  readonly more: boolean;
}

/** A day with all its channels that have hot readings. */
interface Due {
  readonly day: number;
  readonly channelIds: readonly number[];
}

/** Late readings of yesterday mostly come within the hour. */
const graceMs = 3_600_000;
/** Some 20 MB of memory; a larger farm's open day is sealed before it ends, and opened again by its next reading. */
const mostHot = 1_000_000;
const mostConflicts = 10_000;

export class Sealer {
  readonly #context: Context;
  readonly #layers: ReadingLayers;
  readonly #rollups: RollupDays;
  readonly #putLatest;
  readonly #dropConflicts;

  constructor(context: Context, layers: ReadingLayers, rollups: RollupDays) {
    this.#context = context;
    this.#layers = layers;
    this.#rollups = rollups;
    const { db } = context;
    this.#putLatest = db.prepare<[number, number, number, number, number, number]>(
      'INSERT OR REPLACE INTO latest (channel_id, readings, first_ms, at_ms, micro, flag) VALUES (?, ?, ?, ?, ?, ?)',
    );
    this.#dropConflicts = db.prepare<[number]>(
      `DELETE FROM reading_conflict WHERE (channel_id, at_ms, micro) IN (
         SELECT channel_id, at_ms, micro FROM reading_conflict ORDER BY received_at DESC LIMIT -1 OFFSET ?)`,
    );
  }

  /**
   * Seals days in one transaction: the day's blob and roll-up are written, its hot rows deleted, the latest table
   * brought up. Killed anywhere, either all of it happened or none. Throws `StoreUnavailable`.
   */
  seal(options: SealOptions = {}): SealReport {
    const latest = new Map<number, LatestOfChannel>();
    const { now, more, readings } = this.#context.write(() => {
      this.#layers.refresh();
      const due = dueDays(this.#layers, this.#beforeDay(options));
      const now = firstDays(due, options.mostDays ?? 500);
      let readings = 0;
      for (const { day, channelIds } of now)
        readings += this.#sealDay(day, channelIds, latest, options.mostAtOnce ?? 200_000);
      for (const [channelId, of] of latest) {
        this.#putLatest.run(channelId, of.readings, of.firstMs, of.atMs, of.micro, of.flag);
      }
      if (now.length > 0) this.#dropConflicts.run(mostConflicts);
      return { now, readings, more: due.length > now.length };
    });
    for (const { day, channelIds } of now) for (const id of channelIds) this.#layers.hot.forget(id, day);
    for (const [channelId, of] of latest) this.#layers.latest.setSealed(channelId, of);
    return { channelDays: now.reduce((sum, { channelIds }) => sum + channelIds.length, 0), readings, more };
  }

  crowded(): boolean {
    return this.#layers.hot.readings > mostHot;
  }

  #beforeDay({ endedBeforeMs }: SealOptions): number {
    if (this.crowded()) return Infinity;
    return dayOf(endedBeforeMs ?? this.#context.nowMs() - graceMs);
  }

  #sealDay(
    day: number,
    channelIds: readonly number[],
    latest: Map<number, LatestOfChannel>,
    mostAtOnce: number,
  ): number {
    let readings = 0;
    let piece: ChannelDay[] = [];
    let inPiece = 0;
    for (const channelId of channelIds) {
      const whole = this.#layers.day(channelId, day);
      piece.push({ channelId, readings: whole });
      inPiece += whole.length;
      if (inPiece < mostAtOnce) continue;
      this.#writePiece(day, piece);
      piece = [];
      inPiece = 0;
    }
    this.#writePiece(day, piece);
    for (const channelId of channelIds) {
      const hot = this.#layers.hot.day(channelId, day);
      if (!hot) continue;
      latest.set(channelId, withDay(latest.get(channelId) ?? this.#layers.latest.sealedOf(channelId), hot));
      readings += hot.length;
    }
    // Every hot reading of the day has just been sealed.
    this.#layers.hot.removeDay(day);
    return readings;
  }

  #writePiece(day: number, piece: readonly ChannelDay[]): void {
    this.#layers.sealed.write(day, piece);
    for (const { channelId, readings } of piece) this.#rollups.write(channelId, day, readings);
  }
}

/** Days with hot readings before `beforeDay`, oldest first. */
function dueDays(layers: ReadingLayers, beforeDay: number): Due[] {
  const byDay = new Map<number, number[]>();
  for (const channelId of layers.hot.channels()) {
    for (const day of layers.hot.daysOf(channelId)) {
      if (day >= beforeDay) continue;
      const channelIds = byDay.get(day);
      if (channelIds) channelIds.push(channelId);
      else byDay.set(day, [channelId]);
    }
  }
  return [...byDay]
    .sort(([a], [b]) => a - b)
    .map(([day, channelIds]) => ({ day, channelIds: channelIds.sort((a, b) => a - b) }));
}

/** As many whole days as fit, at least one. */
function firstDays(due: readonly Due[], mostDays: number): readonly Due[] {
  let channelDays = 0;
  const beyond = due.findIndex(({ channelIds }, i) => {
    channelDays += channelIds.length;
    return i > 0 && channelDays > mostDays;
  });
  return beyond < 0 ? due : due.slice(0, beyond);
}

/** The latest-table entry of a channel after one more day of hot readings was sealed. */
function withDay(before: LatestOfChannel | undefined, hot: DayReadings): LatestOfChannel {
  const last = hot.length - 1;
  const firstMs = Math.min(before?.firstMs ?? Infinity, hot.atMs[0] ?? Infinity);
  const readings = (before?.readings ?? 0) + hot.length;
  const atMs = hot.atMs[last] ?? 0;
  if (before && before.atMs > atMs) return { ...before, readings, firstMs };
  return { readings, firstMs, atMs, micro: hot.micro[last] ?? 0, flag: hot.flag[last] ?? 0 };
}
