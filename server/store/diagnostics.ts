/** How large the store is, how much it writes, how large it will be. */
import { statSync } from 'node:fs';
import { dirname } from 'node:path';
import type { Context } from './context.ts';
import { freeBytesOf } from './file/free-bytes.ts';
import { dayKey, dayOf } from './readings/day-readings.ts';
import type { ReadingLayers } from './readings/layers.ts';
import { makeWrittenToday } from './written-today.ts';

export interface Diagnostics {
  readonly fileBytes: number;
  readonly logBytes: number;
  /** Null where the disk can't say. */
  readonly freeBytes: number | null;
  readonly readings: number;
  readonly hotReadings: number;
  /** Written by this process since local midnight UTC or its start; null where the system does not tell. */
  readonly writtenTodayBytes: number | null;
  /** From the readings of the last 14 sealed days; null before the first. */
  readonly bytesPerYear: number | null;
}

const forecastDays = 14;

export function diagnostics(context: Context, layers: ReadingLayers): () => Diagnostics {
  const { db, file } = context;
  const writtenToday = makeWrittenToday(context.nowMs);
  const channelIds = db.prepare<[], number>('SELECT id FROM channel').pluck();
  const bytesOf = db
    .prepare<[number, number, number, number], number>(
      `SELECT (SELECT coalesce(sum(length(readings) + 10), 0) FROM reading_day WHERE id >= ? AND id < ?)
            + (SELECT coalesce(sum(length(hours) + 40), 0) FROM rollup_day WHERE id >= ? AND id < ?)`,
    )
    .pluck();

  function bytesPerYear(): number | null {
    const today = dayOf(context.nowMs());
    let bytes = 0;
    for (const id of channelIds.all()) {
      const span = [dayKey(id, Math.max(0, today - forecastDays)), dayKey(id, today)] as const;
      bytes += bytesOf.get(...span, ...span) ?? 0;
    }
    return bytes === 0 ? null : (bytes / forecastDays) * 365.25;
  }

  return () => {
    context.refuseMoved();
    layers.refresh();
    let readings = 0;
    for (const id of channelIds.all()) readings += layers.latest.of(id)?.readings ?? 0;
    return {
      fileBytes: sizeOf(file),
      logBytes: sizeOf(`${file}-wal`),
      freeBytes: freeBytesOf(dirname(file)),
      readings,
      hotReadings: layers.hot.readings,
      writtenTodayBytes: writtenToday(),
      bytesPerYear: bytesPerYear(),
    };
  };
}

function sizeOf(path: string): number {
  return statSync(path, { throwIfNoEntry: false })?.size ?? 0;
}
