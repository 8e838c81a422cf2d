/** What others ask of the readings: by time, by hour, by day, at a chart's width, by place. */
import { linesOf, type Calibrations } from './calibration.ts';
import type { Context } from '../context.ts';
import type { Assignments, Owner, Position } from '../places/assignments.ts';
import { forWidth, type WidthAnswer, type WidthQuery } from './chart-width.ts';
import type { Buckets } from './bucket-columns.ts';
import { bucketsInSpan } from './bucket-span.ts';
import { fromMicro } from './day-readings.ts';
import type { ReadingLayers } from './layers.ts';
import { pastHours, type PastHours } from './past-hours.ts';
import { arrivalSpan, rawSpan, type ArrivalSpan, type RawSpan } from './raw-span.ts';
import type { Sealer, SealOptions, SealReport } from './seal.ts';
import type { RollupDays } from './rollup-days.ts';

/** Ascending, without suspects, calibrated. */
export interface PlainSeries {
  readonly atMs: Float64Array;
  readonly value: Float64Array;
}

export interface Span {
  readonly channelId: number;
  readonly fromMs: number;
  /** Not in it. */
  readonly toMs: number;
  /** Default true. */
  readonly calibrated?: boolean;
}

export interface RawQuery extends Span {
  readonly resolution: 'raw';
  readonly limit?: number;
  /** Default false. */
  readonly includeSuspect?: boolean;
}

export interface BucketQuery extends Span {
  /** UTC hours or UTC days; a bucket is in the answer when it begins in the span. */
  readonly resolution: 'hour' | 'day';
  readonly limit?: number;
}

export type RawAnswer = RawSpan & { readonly resolution: 'raw'; readonly more: boolean };
export type BucketAnswer = Buckets & { readonly resolution: 'hour' | 'day'; readonly more: boolean };

export interface ConflictItem {
  readonly channelId: number;
  readonly atMs: number;
  /** The value that was not stored. */
  readonly value: number;
  readonly receivedAtMs: number;
  readonly times: number;
}

export interface Readings extends PastHours {
  query(query: RawQuery): RawAnswer;
  query(query: BucketQuery): BucketAnswer;
  query(query: RawQuery | BucketQuery): RawAnswer | BucketAnswer;
  /** What a chart of so many pixels needs, gaps as gaps. */
  forWidth(query: WidthQuery): WidthAnswer;
  /** All that a channel sent, by the time it tells, with when it came. */
  arrivals(span: Span): ArrivalSpan;
  series(channelId: number, fromMs: number, toMs: number): PlainSeries;
  /** The history of a place, whichever sensors stood there; where two did at once, the one assigned last. */
  placeSeries(owner: Owner, position: Position, fromMs: number, toMs: number): PlainSeries;
  conflicts(limit?: number): ConflictItem[];
  /** The background step: hot days that are over become sealed days. */
  seal(options?: SealOptions): SealReport;
  /** Readings that wait in the hot table. */
  hotCount(): number;
  /** So many wait, all of them in memory too, that they should be sealed at once; `seal` takes open days as well then. */
  crowded(): boolean;
}

export function readings(
  context: Context,
  layers: ReadingLayers,
  rollups: RollupDays,
  sealer: Sealer,
  calibrations: Calibrations,
  assignments: Assignments,
): Readings {
  const conflictRows = context.db.prepare<
    [number],
    { channel_id: number; at_ms: number; micro: number; received_at: number; times: number }
  >('SELECT * FROM reading_conflict ORDER BY received_at DESC LIMIT ?');

  function lines(channelId: number, calibrated = true) {
    return linesOf(calibrated ? calibrations.calibrationsOf(channelId) : []);
  }

  function query(asked: RawQuery): RawAnswer;
  function query(asked: BucketQuery): BucketAnswer;
  function query(asked: RawQuery | BucketQuery): RawAnswer | BucketAnswer;
  function query(asked: RawQuery | BucketQuery): RawAnswer | BucketAnswer {
    layers.refresh();
    const limit = asked.limit ?? Infinity;
    const line = lines(asked.channelId, asked.calibrated);
    if (asked.resolution === 'raw') {
      const found = rawSpan(layers, asked, line, asked.includeSuspect ?? false);
      return { resolution: 'raw', ...cut(found, limit) };
    }
    const found = bucketsInSpan(layers, rollups, asked, asked.resolution, line);
    return { resolution: asked.resolution, ...cut(found, limit) };
  }

  function series(channelId: number, fromMs: number, toMs: number): PlainSeries {
    const { atMs, value } = query({ channelId, fromMs, toMs, resolution: 'raw' });
    return { atMs, value };
  }

  return {
    ...pastHours(context, layers, rollups),
    query,
    series,
    arrivals: (span) => {
      layers.refresh();
      return arrivalSpan(layers, span, lines(span.channelId, span.calibrated));
    },
    forWidth: (asked) => {
      layers.refresh();
      return forWidth(layers, rollups, asked, lines(asked.channelId, asked.calibrated));
    },
    placeSeries(owner, position, fromMs, toMs) {
      const parts = assignments
        .stretches(owner, position, fromMs, toMs)
        .map((stretch) => series(stretch.channelId, stretch.fromMs, stretch.toMs));
      return concatenate(parts);
    },
    conflicts: (limit = 1000) =>
      conflictRows.all(limit).map((row) => ({
        channelId: row.channel_id,
        atMs: row.at_ms,
        value: fromMicro(row.micro),
        receivedAtMs: row.received_at,
        times: row.times,
      })),
    seal: (options) => sealer.seal(options),
    hotCount: () => layers.hot.readings,
    crowded: () => sealer.crowded(),
  };
}

type Columns = Readonly<Record<string, Float64Array | Uint8Array | Uint32Array>>;

/** The first `limit` entries of every column, and whether there were more. */
function cut<T extends { readonly atMs: Float64Array }>(columns: T, limit: number): T & { more: boolean } {
  if (columns.atMs.length <= limit) return { ...columns, more: false };
  const shorter = Object.entries(columns as unknown as Columns).map(([name, column]) => [
    name,
    column.subarray(0, limit),
  ]);
  return { ...(Object.fromEntries(shorter) as T), more: true };
}

function concatenate(parts: readonly PlainSeries[]): PlainSeries {
  const [only] = parts;
  if (only && parts.length === 1) return only;
  const length = parts.reduce((sum, part) => sum + part.atMs.length, 0);
  const atMs = new Float64Array(length);
  const value = new Float64Array(length);
  let at = 0;
  for (const part of parts) {
    atMs.set(part.atMs, at);
    value.set(part.value, at);
    at += part.atMs.length;
  }
  return { atMs, value };
}
