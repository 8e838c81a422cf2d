/** What a chart of a given width needs: single readings while they fit, otherwise buckets with lowest, mean, highest. */
import { BucketColumns } from './bucket-columns.ts';
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

/** What is drawn, in columns; `count` is null where each entry is one reading. */
interface Entries {
  readonly atMs: Float64Array;
  readonly count: Uint32Array | null;
  readonly mean: Float64Array;
  readonly min: Float64Array;
  readonly max: Float64Array;
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
    entries.atMs.length > query.pixels * pointsPerPixel ? bucketed(entries, query.fromMs, bucketMs) : entries;
  const single = drawn === entries && bucketMs < hourMs;
  const { atMs, mean, min, max } = withGaps(drawn);
  return { kind: single ? 'points' : 'buckets', bucketMs: single ? 0 : bucketMs, atMs, mean, min, max };
}

function fromRaw(layers: ReadingLayers, query: WidthQuery, lines: LineSpans): Entries {
  const { atMs, value } = rawSpan(layers, query, lines, false);
  return { atMs, count: null, mean: value, min: value, max: value };
}

function fromRollups(
  layers: ReadingLayers,
  rollups: RollupDays,
  query: WidthQuery,
  lines: LineSpans,
  bucketMs: number,
): Entries {
  const size = bucketMs >= dayMs ? 'day' : 'hour';
  const width = size === 'day' ? dayMs : hourMs;
  // The bucket in which the span begins is drawn, too.
  const span = { ...query, fromMs: Math.floor(query.fromMs / width) * width };
  const found = bucketsInSpan(layers, rollups, span, size, lines);
  // Each is drawn in its middle.
  for (let i = 0; i < found.atMs.length; i += 1) found.atMs[i] = (found.atMs[i] ?? 0) + width / 2;
  return found;
}

function bucketed({ atMs, count, mean, min, max }: Entries, fromMs: number, bucketMs: number): Entries {
  const buckets = new BucketColumns();
  for (let i = 0; i < atMs.length;) {
    const at = Math.floor(((atMs[i] ?? 0) - fromMs) / bucketMs);
    let [n, sum, low, high] = [0, 0, Infinity, -Infinity];
    for (; i < atMs.length && Math.floor(((atMs[i] ?? 0) - fromMs) / bucketMs) === at; i += 1) {
      const of = count?.[i] ?? 1;
      n += of;
      sum += (mean[i] ?? 0) * of;
      low = Math.min(low, min[i] ?? 0);
      high = Math.max(high, max[i] ?? 0);
    }
    buckets.push(fromMs + (at + 0.5) * bucketMs, n, low, high, sum / n, NaN);
  }
  return buckets.finish();
}

function withGaps(entries: Entries): Entries {
  const { atMs } = entries;
  const intervals = new Float64Array(Math.max(0, atMs.length - 1));
  for (let i = 0; i < intervals.length; i += 1) intervals[i] = (atMs[i + 1] ?? 0) - (atMs[i] ?? 0);
  const longest = (intervals.toSorted()[intervals.length >> 1] ?? Infinity) * gapIntervals;
  if (intervals.every((interval) => interval <= longest)) return entries;
  const whole = new BucketColumns();
  for (let i = 0; i < atMs.length; i += 1) {
    if ((intervals[i - 1] ?? 0) > longest)
      whole.push(((atMs[i - 1] ?? 0) + (atMs[i] ?? 0)) / 2, 0, NaN, NaN, NaN, NaN);
    whole.push(atMs[i] ?? 0, 1, entries.min[i] ?? 0, entries.max[i] ?? 0, entries.mean[i] ?? 0, NaN);
  }
  return whole.finish();
}
