/** Hour and day roll-ups of one channel in a span of time: stored ones, and fresh ones for days that are open. */
import type { Line } from '../calibration.ts';
import { dayMs, dayOf, fromMicro, hourMs } from './day-readings.ts';
import type { ReadingLayers } from './layers.ts';
import type { LineSpans, SpanOfChannel } from './raw-span.ts';
import { hoursOf, wholeDay, type Bucket } from './rollup.ts';
import type { RollupDays } from './rollup-days.ts';

export interface Buckets {
  /** Start of each bucket, UTC. Buckets without a reading are absent. */
  readonly atMs: Float64Array;
  readonly min: Float64Array;
  readonly max: Float64Array;
  readonly mean: Float64Array;
  readonly last: Float64Array;
  readonly count: Uint32Array;
}

type Dated = Bucket & { readonly atMs: number };

export function bucketsInSpan(
  layers: ReadingLayers,
  rollups: RollupDays,
  span: SpanOfChannel,
  size: 'hour' | 'day',
  lines: LineSpans,
): Buckets {
  const newest = layers.latest.of(span.channelId);
  if (!newest || span.toMs <= span.fromMs) return toColumns([], lines);
  // Roll-ups outlive the raw readings, so the first day is the asked one, not the first that has readings.
  const firstDay = dayOf(Math.max(span.fromMs, 0));
  const lastDay = dayOf(Math.min(span.toMs - 1, newest.atMs));
  const byDay = storedBuckets(rollups, span.channelId, firstDay, lastDay, size);
  for (const day of freshDays(layers, span.channelId, lines)) {
    if (day < firstDay || day > lastDay) continue;
    byDay.set(day, freshBuckets(layers, span.channelId, day, size));
  }
  const buckets = [...byDay]
    .sort(([a], [b]) => a - b)
    .flatMap(([, found]) => found)
    .filter(({ atMs }) => atMs >= span.fromMs && atMs < span.toMs);
  return toColumns(buckets, lines);
}

function storedBuckets(
  rollups: RollupDays,
  channelId: number,
  firstDay: number,
  lastDay: number,
  size: 'hour' | 'day',
): Map<number, Dated[]> {
  if (size === 'day') {
    const days = rollups.days(channelId, firstDay, lastDay);
    return new Map(days.map((bucket) => [bucket.day, [{ ...bucket, atMs: bucket.day * dayMs }]]));
  }
  const days = rollups.hours(channelId, firstDay, lastDay);
  return new Map(days.map(({ day, hours }) => [day, hours.map((hour) => dated(hour, day))]));
}

const dated = (hour: Bucket & { readonly hour: number }, day: number): Dated => ({
  ...hour,
  atMs: day * dayMs + hour.hour * hourMs,
});

/** Days whose stored roll-up is not the whole truth: they have hot readings. */
function freshDays(layers: ReadingLayers, channelId: number, _lines: LineSpans): readonly number[] {
  return layers.hot.daysOf(channelId);
}

function freshBuckets(layers: ReadingLayers, channelId: number, day: number, size: 'hour' | 'day'): Dated[] {
  const hours = hoursOf(layers.day(channelId, day), day * dayMs);
  if (size === 'hour') return hours.map((hour) => dated(hour, day));
  const whole = wholeDay(hours);
  return whole ? [{ ...whole, atMs: day * dayMs }] : [];
}

function toColumns(buckets: readonly Dated[], lines: LineSpans): Buckets {
  const { length } = buckets;
  const columns = {
    atMs: new Float64Array(length),
    min: new Float64Array(length),
    max: new Float64Array(length),
    mean: new Float64Array(length),
    last: new Float64Array(length),
    count: new Uint32Array(length),
  };
  buckets.forEach((bucket, i) => {
    const { line } = lineOf(lines, bucket.atMs);
    const low = line.apply(fromMicro(bucket.min));
    const high = line.apply(fromMicro(bucket.max));
    columns.atMs[i] = bucket.atMs;
    columns.min[i] = Math.min(low, high);
    columns.max[i] = Math.max(low, high);
    columns.mean[i] = line.apply(fromMicro(bucket.sum / bucket.count));
    columns.last[i] = line.apply(fromMicro(bucket.last));
    columns.count[i] = bucket.count;
  });
  return columns;
}

function lineOf(lines: LineSpans, atMs: number): { readonly line: Line } {
  const found = lines.findLast(({ fromMs }) => fromMs <= atMs);
  if (!found) throw new RangeError('calibration spans begin at −∞');
  return found;
}
