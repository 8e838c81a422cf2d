/** What a chart of a given width needs: single readings while they fit, otherwise buckets with lowest, mean, highest. */
import { bucketsInSpan } from './bucket-span.ts';
import { dayMs, hourMs } from './day-readings.ts';
import type { ReadingLayers } from './layers.ts';
import { rawSpan, type LineSpans, type SpanOfChannel } from './raw-span.ts';
import type { RollupDays } from './rollup-days.ts';

export interface WidthQuery extends SpanOfChannel {
  readonly pixels: number;
  readonly calibrated?: boolean;
}

/** A gap is one entry whose values are NaN. `min` and `max` equal `mean` where every reading is drawn. */
export interface WidthAnswer {
  readonly kind: 'points' | 'buckets';
  /** Width of a bucket; 0 for single readings. */
  readonly bucketMs: number;
  readonly atMs: Float64Array;
  readonly mean: Float64Array;
  readonly min: Float64Array;
  readonly max: Float64Array;
}

interface Entry {
  readonly atMs: number;
  count: number;
  sum: number;
  min: number;
  max: number;
}

/** So many points a pixel are drawn as they are. */
const pointsPerPixel = 2;
/** Nothing for so many usual intervals is a gap. */
const gapIntervals = 4;

export function forWidth(
  layers: ReadingLayers,
  rollups: RollupDays,
  query: WidthQuery,
  lines: LineSpans,
): WidthAnswer {
  const bucketMs = (query.toMs - query.fromMs) / Math.max(1, query.pixels);
  const entries =
    bucketMs >= hourMs ? fromRollups(layers, rollups, query, lines, bucketMs) : fromRaw(layers, query, lines);
  const drawn =
    entries.length > query.pixels * pointsPerPixel ? bucketed(entries, query.fromMs, bucketMs) : entries;
  const single = drawn === entries && bucketMs < hourMs;
  return toColumns(withGaps(drawn), single ? 0 : bucketMs);
}

function fromRaw(layers: ReadingLayers, query: WidthQuery, lines: LineSpans): Entry[] {
  const { atMs, value } = rawSpan(layers, query, lines, false);
  const entries: Entry[] = [];
  for (let i = 0; i < atMs.length; i += 1) {
    const v = value[i] ?? 0;
    entries.push({ atMs: atMs[i] ?? 0, count: 1, sum: v, min: v, max: v });
  }
  return entries;
}

function fromRollups(
  layers: ReadingLayers,
  rollups: RollupDays,
  query: WidthQuery,
  lines: LineSpans,
  bucketMs: number,
): Entry[] {
  const size = bucketMs >= dayMs ? 'day' : 'hour';
  const width = size === 'day' ? dayMs : hourMs;
  const half = width / 2;
  // The bucket in which the span begins is drawn, too.
  const span = { ...query, fromMs: Math.floor(query.fromMs / width) * width };
  const { atMs, min, max, mean, count } = bucketsInSpan(layers, rollups, span, size, lines);
  const entries: Entry[] = [];
  for (let i = 0; i < atMs.length; i += 1) {
    const n = count[i] ?? 0;
    entries.push({
      atMs: (atMs[i] ?? 0) + half,
      count: n,
      sum: (mean[i] ?? 0) * n,
      min: min[i] ?? 0,
      max: max[i] ?? 0,
    });
  }
  return entries;
}

function bucketed(entries: readonly Entry[], fromMs: number, bucketMs: number): Entry[] {
  const buckets: Entry[] = [];
  let open = -1;
  for (const entry of entries) {
    const at = Math.floor((entry.atMs - fromMs) / bucketMs);
    const bucket = buckets.at(-1);
    if (!bucket || at !== open) {
      open = at;
      buckets.push({ ...entry, atMs: fromMs + (at + 0.5) * bucketMs });
      continue;
    }
    bucket.count += entry.count;
    bucket.sum += entry.sum;
    bucket.min = Math.min(bucket.min, entry.min);
    bucket.max = Math.max(bucket.max, entry.max);
  }
  return buckets;
}

function withGaps(entries: readonly Entry[]): Entry[] {
  const intervals = entries.slice(1).map((entry, i) => entry.atMs - (entries[i]?.atMs ?? 0));
  const usual = intervals.toSorted((a, b) => a - b)[intervals.length >> 1] ?? Infinity;
  return entries.flatMap((entry, i) => {
    const before = entries[i - 1];
    if (!before || entry.atMs - before.atMs <= usual * gapIntervals) return [entry];
    const middle = (before.atMs + entry.atMs) / 2;
    return [{ atMs: middle, count: 0, sum: NaN, min: NaN, max: NaN }, entry];
  });
}

function toColumns(entries: readonly Entry[], bucketMs: number): WidthAnswer {
  const column = (of: (entry: Entry) => number): Float64Array => {
    const values = new Float64Array(entries.length);
    entries.forEach((entry, i) => {
      values[i] = of(entry);
    });
    return values;
  };
  return {
    kind: bucketMs === 0 ? 'points' : 'buckets',
    bucketMs,
    atMs: column((e) => e.atMs),
    mean: column((e) => (e.count === 0 ? NaN : e.sum / e.count)),
    min: column((e) => e.min),
    max: column((e) => e.max),
  };
}
