/** Hours whose raw readings are gone: out of one store and into another. */
import type { Context } from '../context.ts';
import { StoreConflict } from '../errors.ts';
import { dayMs, dayOf, dayOfKey, fromMicro, hourMs, suspectCode, toMicro } from './day-readings.ts';
import type { ReadingLayers } from './layers.ts';
import type { SuspectReason } from '../port.ts';
import type { HourBucket } from './rollup.ts';
import type { RollupDays } from './rollup-days.ts';

/** As they came, not calibrated, in the channel's unit. */
export interface PastHour {
  /** Its start, UTC. */
  readonly atMs: number;
  readonly count: number;
  readonly min: number;
  readonly max: number;
  readonly mean: number;
  readonly last: number;
}

/** What is known of a channel's readings beside those that can still be read. */
export interface PastReadings {
  /** How many are gone. */
  readonly readings: number;
  readonly firstAtMs: number;
  readonly last: { readonly atMs: number; readonly value: number; readonly suspect?: SuspectReason };
}

export interface PastHours {
  /** Ascending. */
  pastHours(channelId: number): PastHour[];
  /**
   * Hours of days of which nothing is stored; how many were added. Later raw readings of such a day replace them.
   * Throws `StoreConflict` for hours that can't be.
   */
  addPastHours(channelId: number, hours: readonly PastHour[]): number;
  /** Counts readings that are gone; false where as early ones are counted already. */
  notePast(channelId: number, past: PastReadings): boolean;
}

export function pastHours(context: Context, layers: ReadingLayers, rollups: RollupDays): PastHours {
  const putLatest = context.db.prepare<[number, number, number, number, number, number]>(
    'INSERT OR REPLACE INTO latest (channel_id, readings, first_ms, at_ms, micro, flag) VALUES (?, ?, ?, ?, ?, ?)',
  );

  return {
    pastHours(channelId) {
      return rollups.alone(channelId).flatMap((row) => {
        const start = dayOfKey(row[0]) * dayMs;
        const { length, hour, count, min, max, sum, last } = rollups.decoded(row);
        return Array.from({ length }, (_, i) => ({
          atMs: start + (hour[i] ?? 0) * hourMs,
          count: count[i] ?? 0,
          min: fromMicro(min[i] ?? 0),
          max: fromMicro(max[i] ?? 0),
          mean: fromMicro((sum[i] ?? 0) / (count[i] ?? 1)),
          last: fromMicro(last[i] ?? 0),
        }));
      });
    },

    addPastHours(channelId, hours) {
      const byDay = new Map<number, PastHour[]>();
      for (const hour of hours) {
        const day = dayOf(hour.atMs);
        byDay.set(day, [...(byDay.get(day) ?? []), hour]);
      }
      let added = 0;
      context.write(() => {
        for (const [day, ofDay] of byDay) {
          const buckets = ofDay.map((hour) => bucketOf(hour, day));
          if (!buckets.every((one, i) => i === 0 || one.hour > (buckets[i - 1]?.hour ?? 0)))
            throw new StoreConflict('Hours of a day must ascend.');
          if (rollups.has(channelId, day) || layers.day(channelId, day).length > 0) continue;
          rollups.writeHours(channelId, day, buckets);
          added += buckets.length;
        }
      });
      return added;
    },

    notePast(channelId, { readings, firstAtMs, last }) {
      const known = layers.latest.of(channelId);
      if (known && known.firstMs <= firstAtMs) return false;
      const past = {
        readings,
        firstMs: firstAtMs,
        atMs: last.atMs,
        micro: toMicro(last.value),
        flag: suspectCode(last.suspect),
      };
      context.write(() => {
        const sealed = layers.latest.withPast(layers.latest.sealedOf(channelId), past);
        const { readings: all, firstMs, atMs, micro, flag } = sealed;
        putLatest.run(channelId, all, firstMs, atMs, micro, flag);
      });
      layers.latest.notePast(channelId, past);
      return true;
    },
  };
}

function bucketOf({ atMs, count, min, max, mean, last }: PastHour, day: number): HourBucket {
  const hour = (atMs - day * dayMs) / hourMs;
  const possible =
    Number.isInteger(hour) && count > 0 && min <= mean && mean <= max && min <= last && last <= max;
  if (!possible || Math.abs(min) > largest || Math.abs(max) > largest || count > mostInAnHour)
    throw new StoreConflict(`An hour of ${new Date(day * dayMs).toISOString().slice(0, 10)} can't be.`);
  return {
    hour,
    count,
    min: toMicro(min),
    max: toMicro(max),
    last: toMicro(last),
    sum: Math.round(mean * count * 1e6),
  };
}
/** As of a reading. */
const largest = 100_000;
/** One a millisecond. */
const mostInAnHour = 3_600_000;
