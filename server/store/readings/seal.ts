/** The background step that turns hot days into sealed ones. */
import type { Context } from '../context.ts';
import { dayMs, dayOf, type DayReadings } from './day-readings.ts';
import type { Latest, LatestOfChannel } from './latest.ts';
import type { ReadingLayers } from './layers.ts';
import type { RollupDays } from './rollup-days.ts';

export interface SealOptions {
  /** Days that ended before this instant are sealed; default: one hour ago. */
  readonly endedBeforeMs?: number;
  /**
   * At most about so many channel-days in one transaction, whole days at a time; default 500. A day is never split:
   * each part would rewrite every hot page of the day.
   */
  readonly mostDays?: number;
}

export interface SealReport {
  readonly channelDays: number;
  readonly readings: number;
  /** There is more to seal: call again. */
  readonly more: boolean;
}

interface Due {
  readonly day: number;
  readonly channelIds: readonly number[];
}

/** Late readings of yesterday mostly come within the hour. */
const graceMs = 3_600_000;

/**
 * Seals days in one transaction: the day's blob and roll-up are written, its hot rows deleted, the latest table
 * brought up. Killed anywhere, either all of it happened or none.
 */
export function seal(
  context: Context,
  layers: ReadingLayers,
  rollups: RollupDays,
  options: SealOptions = {},
): SealReport {
  layers.refresh();
  const beforeDay = dayOf(options.endedBeforeMs ?? context.nowMs() - graceMs);
  const due = dueDays(layers, beforeDay);
  const now = firstDays(due, options.mostDays ?? 500);
  if (now.length === 0) return { channelDays: 0, readings: 0, more: false };
  const remove = context.db.prepare<[number, number]>(
    'DELETE FROM reading_hot WHERE at_ms >= ? AND at_ms < ?',
  );
  const latest = new Map<number, LatestOfChannel>();
  let readings = 0;
  context.write(() => {
    for (const { day, channelIds } of now) {
      for (const channelId of channelIds) {
        readings += sealDay(layers, rollups, latest, channelId, day);
      }
      // Every hot reading of the day has just been sealed: one range, not a search a channel.
      remove.run(day * dayMs, (day + 1) * dayMs);
    }
    writeLatest(context, latest);
  });
  for (const { day, channelIds } of now) for (const id of channelIds) layers.hot.drop(id, day);
  followLatest(layers.latest, latest);
  const channelDays = now.reduce((sum, { channelIds }) => sum + channelIds.length, 0);
  return { channelDays, readings, more: due.length > now.length };
}

function sealDay(
  layers: ReadingLayers,
  rollups: RollupDays,
  latest: Map<number, LatestOfChannel>,
  channelId: number,
  day: number,
): number {
  const hot = layers.hot.day(channelId, day);
  if (!hot) return 0;
  const whole = layers.day(channelId, day);
  layers.sealed.write(channelId, day, whole);
  rollups.write(channelId, day, whole);
  latest.set(channelId, withDay(latest.get(channelId) ?? layers.latest.sealedOf(channelId), hot));
  return hot.length;
}

/** Days with hot readings that are over, oldest first, each with all its channels. */
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

function writeLatest(context: Context, latest: ReadonlyMap<number, LatestOfChannel>): void {
  const put = context.db.prepare<[number, number, number, number, number, number]>(
    'INSERT OR REPLACE INTO latest (channel_id, readings, first_ms, at_ms, micro, flag) VALUES (?, ?, ?, ?, ?, ?)',
  );
  for (const [channelId, of] of latest) {
    put.run(channelId, of.readings, of.firstMs, of.atMs, of.micro, of.flag);
  }
}

function followLatest(target: Latest, latest: ReadonlyMap<number, LatestOfChannel>): void {
  for (const [channelId, of] of latest) target.setSealed(channelId, of);
}
