/** What a chart of a given width needs: single readings while they fit, otherwise buckets with lowest, mean, highest. */
import { BucketColumns } from './bucket-columns.ts';
import { bucketsInSpan, putBuckets } from './bucket-span.ts';
import { dayMs, hourMs } from './day-readings.ts';
import type { ReadingLayers } from './layers.ts';
import { PixelBins, type Binned } from './pixel-bins.ts';
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
  const pixels = Math.max(1, query.pixels);
  const bucketMs = (query.toMs - query.fromMs) / pixels;
  if (bucketMs >= hourMs)
    return withGaps(bucketMs, fromRollups(layers, rollups, query, lines, pixels, bucketMs));
  const { atMs, value } = rawSpan(layers, query, lines, false);
  if (atMs.length <= pixels * pointsPerPixel)
    return withGaps(0, { atMs, mean: value, min: value, max: value });
  const bins = new PixelBins(query, pixels, lines, 1);
  for (let i = 0; i < atMs.length; i += 1) bins.putReading(atMs[i] ?? 0, value[i] ?? 0);
  return withGaps(bucketMs, bins.finish());
}

function fromRollups(
  layers: ReadingLayers,
  rollups: RollupDays,
  query: WidthQuery,
  lines: LineSpans,
  pixels: number,
  bucketMs: number,
): Binned {
  const size = bucketMs >= dayMs ? 'day' : 'hour';
  const width = size === 'day' ? dayMs : hourMs;
  if (bucketMs > width * pointsPerPixel) {
    const bins = new PixelBins(query, pixels, lines, width);
    putBuckets(layers, rollups, query, size, lines, bins);
    return bins.finish();
  }
  // The bucket in which the span begins is drawn, too.
  const span = { ...query, fromMs: Math.floor(query.fromMs / width) * width };
  const found = bucketsInSpan(layers, rollups, span, size, lines);
  // Each is drawn in its middle.
  for (let i = 0; i < found.atMs.length; i += 1) found.atMs[i] = (found.atMs[i] ?? 0) + width / 2;
  return found;
}

/** @param bucketMs 0 for single readings */
function withGaps(bucketMs: number, { atMs, mean, min, max }: Binned): WidthAnswer {
  const kind = bucketMs === 0 ? 'points' : 'buckets';
  const intervals = new Float64Array(Math.max(0, atMs.length - 1));
  for (let i = 0; i < intervals.length; i += 1) intervals[i] = (atMs[i + 1] ?? 0) - (atMs[i] ?? 0);
  const longest = (intervals.toSorted()[intervals.length >> 1] ?? Infinity) * gapIntervals;
  if (intervals.every((interval) => interval <= longest)) return { kind, bucketMs, atMs, mean, min, max };
  const whole = new BucketColumns();
  for (let i = 0; i < atMs.length; i += 1) {
    if ((intervals[i - 1] ?? 0) > longest)
      whole.push(((atMs[i - 1] ?? 0) + (atMs[i] ?? 0)) / 2, 0, NaN, NaN, NaN, NaN);
    whole.push(atMs[i] ?? 0, 1, min[i] ?? 0, max[i] ?? 0, mean[i] ?? 0, NaN);
  }
  return { kind, bucketMs, ...whole.finish() };
}
