/** Hour and day roll-ups of one channel in a span of time: stored ones, and fresh ones for days that are open. */
import type { Line } from '../calibration.ts';
import { dayMs, dayOf, fromMicro, hourMs } from './day-readings.ts';
import type { ReadingLayers } from './layers.ts';
import { rawSpan, type LineSpans, type SpanOfChannel } from './raw-span.ts';
import { hoursOf, join, wholeDay, type Bucket } from './rollup.ts';
import type { RollupDays } from './rollup-days.ts';

export type BucketSize = 'hour' | 'day';

export interface Buckets {
  /** Start of each bucket, UTC. Buckets without a reading are absent. */
  readonly atMs: Float64Array;
  readonly min: Float64Array;
  readonly max: Float64Array;
  readonly mean: Float64Array;
  readonly last: Float64Array;
  readonly count: Uint32Array;
}

/** In the channel's unit, calibrated. */
type Dated = Bucket & { readonly atMs: number };

export function bucketsInSpan(
  layers: ReadingLayers,
  rollups: RollupDays,
  span: SpanOfChannel,
  size: BucketSize,
  lines: LineSpans,
): Buckets {
  const newest = layers.latest.of(span.channelId);
  if (!newest || span.toMs <= span.fromMs) return toColumns([]);
  // Roll-ups outlive the raw readings, so the first day is the asked one, not the first that has readings.
  const firstDay = dayOf(Math.max(span.fromMs, 0));
  const lastDay = dayOf(Math.min(span.toMs - 1, newest.atMs));
  const byDay = storedBuckets(rollups, span.channelId, firstDay, lastDay, size, lines);
  const within = (day: number): boolean => day >= firstDay && day <= lastDay;
  for (const day of layers.hot.daysOf(span.channelId).filter(within)) {
    byDay.set(day, freshBuckets(layers, span.channelId, day, size, lines));
  }
  for (const day of recalibratedDays(lines).filter(within)) {
    const exact = exactBuckets(layers, span.channelId, day, size, lines);
    // Where the raw readings are gone, the whole bucket goes by the calibration at its beginning.
    if (exact.length > 0) byDay.set(day, exact);
  }
  return toColumns(
    [...byDay]
      .sort(([a], [b]) => a - b)
      .flatMap(([, found]) => found)
      .filter(({ atMs }) => atMs >= span.fromMs && atMs < span.toMs),
  );
}

function storedBuckets(
  rollups: RollupDays,
  channelId: number,
  firstDay: number,
  lastDay: number,
  size: BucketSize,
  lines: LineSpans,
): Map<number, Dated[]> {
  if (size === 'day') {
    const days = rollups.days(channelId, firstDay, lastDay);
    return new Map(days.map((bucket) => [bucket.day, [dated(bucket, bucket.day * dayMs, lines)]]));
  }
  const days = rollups.hours(channelId, firstDay, lastDay);
  return new Map(
    days.map(({ day, hours }) => [day, hours.map((h) => dated(h, day * dayMs + h.hour * hourMs, lines))]),
  );
}

function freshBuckets(
  layers: ReadingLayers,
  channelId: number,
  day: number,
  size: BucketSize,
  lines: LineSpans,
): Dated[] {
  const start = day * dayMs;
  const hours = hoursOf(layers.day(channelId, day), start);
  if (size === 'hour') return hours.map((h) => dated(h, start + h.hour * hourMs, lines));
  const whole = wholeDay(hours);
  return whole ? [dated(whole, start, lines)] : [];
}

/** A bucket of millionths in the channel's unit, by the calibration at its beginning. */
function dated(bucket: Bucket, atMs: number, lines: LineSpans): Dated {
  const line = lineAt(lines, atMs);
  const [a, b] = [line.apply(fromMicro(bucket.min)), line.apply(fromMicro(bucket.max))];
  return {
    atMs,
    count: bucket.count,
    min: Math.min(a, b),
    max: Math.max(a, b),
    sum: line.apply(fromMicro(bucket.sum / bucket.count)) * bucket.count,
    last: line.apply(fromMicro(bucket.last)),
  };
}

/** Days on which a calibration begins: their buckets are made from the calibrated readings. */
function recalibratedDays(lines: LineSpans): number[] {
  return lines.map(({ fromMs }) => dayOf(fromMs)).filter((day) => Number.isFinite(day));
}

function exactBuckets(
  layers: ReadingLayers,
  channelId: number,
  day: number,
  size: BucketSize,
  lines: LineSpans,
): Dated[] {
  const span = { channelId, fromMs: day * dayMs, toMs: (day + 1) * dayMs };
  const { atMs, value } = rawSpan(layers, span, lines, false);
  const width = size === 'hour' ? hourMs : dayMs;
  const byStart = new Map<number, Dated>();
  atMs.forEach((at, i) => {
    const v = value[i] ?? 0;
    const start = Math.floor(at / width) * width;
    const one = { atMs: start, count: 1, min: v, max: v, sum: v, last: v };
    const before = byStart.get(start);
    byStart.set(start, before ? { atMs: start, ...join(before, one) } : one);
  });
  return [...byStart.values()];
}

function toColumns(buckets: readonly Dated[]): Buckets {
  // Not `Float64Array.from`, which asks an iterator for each value: a season of hours is drawn while somebody waits.
  const column = (of: (bucket: Dated) => number): Float64Array => {
    const values = new Float64Array(buckets.length);
    buckets.forEach((bucket, i) => {
      values[i] = of(bucket);
    });
    return values;
  };
  return {
    atMs: column((b) => b.atMs),
    min: column((b) => b.min),
    max: column((b) => b.max),
    mean: column((b) => b.sum / b.count),
    last: column((b) => b.last),
    count: Uint32Array.from(buckets.map((b) => b.count)),
  };
}

function lineAt(lines: LineSpans, atMs: number): Line {
  const found = lines.findLast(({ fromMs }) => fromMs <= atMs);
  if (!found) throw new RangeError('calibration spans begin at −∞');
  return found.line;
}
