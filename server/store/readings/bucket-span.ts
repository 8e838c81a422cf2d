/** Hour and day roll-ups of one channel in a span of time: stored ones, and fresh ones for days that are open. */
import { BucketColumns, type Buckets } from './bucket-columns.ts';
import { CalibrationLines } from './calibration-lines.ts';
import { dayMs, dayOf, dayOfKey, fromMicro, hourMs } from './day-readings.ts';
import type { ReadingLayers } from './layers.ts';
import { rawSpan, type LineSpans, type SpanOfChannel } from './raw-span.ts';
import { hoursOf, join, wholeDay, type Bucket, type HourColumns } from './rollup.ts';
import type { RollupDays } from './rollup-days.ts';

export type BucketSize = 'hour' | 'day';

/** Takes buckets in the order of time. */
export interface BucketSink {
  /** In millionths, as they came. */
  put(atMs: number, bucket: Bucket): void;
  /** The same, of a day; the columns are another day's after the next call. */
  putHours(dayStartMs: number, hours: HourColumns): void;
  /** In the channel's unit. */
  putCalibrated(atMs: number, bucket: Bucket): void;
}

/** Days whose stored buckets, if any, are not what counts. */
interface RemadeDay {
  readonly day: number;
  put(into: BucketSink): void;
}

export function bucketsInSpan(
  layers: ReadingLayers,
  rollups: RollupDays,
  span: SpanOfChannel,
  size: BucketSize,
  lines: LineSpans,
): Buckets {
  const into = new CalibratedBuckets(span, lines);
  putBuckets(layers, rollups, span, size, lines, into);
  return into.finish();
}

/** Puts the buckets of every day that the span touches; those that begin outside it, too. */
export function putBuckets(
  layers: ReadingLayers,
  rollups: RollupDays,
  span: SpanOfChannel,
  size: BucketSize,
  lines: LineSpans,
  into: BucketSink,
): void {
  const newest = layers.latest.of(span.channelId);
  if (!newest || span.toMs <= span.fromMs) return;
  // Roll-ups outlive the raw readings, so the first day is the asked one, not the first that has readings.
  const firstDay = dayOf(Math.max(span.fromMs, 0));
  const lastDay = dayOf(Math.min(span.toMs - 1, newest.atMs));
  const remade = remadeDays(layers, span.channelId, firstDay, lastDay, size, lines);
  /** Puts those that come before the day; false where the day is one of them. */
  const countsAsStored = (day: number): boolean => {
    let next = remade.at(-1);
    for (; next && next.day <= day; next = remade.at(-1)) {
      next.put(into);
      remade.pop();
      if (next.day === day) return false;
    }
    return true;
  };
  if (size === 'day') {
    for (const bucket of rollups.days(span.channelId, firstDay, lastDay))
      if (countsAsStored(bucket.day)) into.put(bucket.day * dayMs, bucket);
  } else {
    for (const hours of rollups.hours(span.channelId, firstDay, lastDay))
      if (countsAsStored(dayOfKey(hours[0])))
        into.putHours(dayOfKey(hours[0]) * dayMs, rollups.decoded(hours));
  }
  countsAsStored(Infinity);
}

/** With hot readings, or on which a calibration begins; the earliest last. */
function remadeDays(
  layers: ReadingLayers,
  channelId: number,
  firstDay: number,
  lastDay: number,
  size: BucketSize,
  lines: LineSpans,
): RemadeDay[] {
  const byDay = new Map<number, RemadeDay['put']>();
  const within = (day: number): boolean => day >= firstDay && day <= lastDay;
  for (const day of layers.hot.daysOf(channelId).filter(within)) {
    byDay.set(day, (into) => {
      for (const { atMs, bucket } of freshBuckets(layers, channelId, day, size)) into.put(atMs, bucket);
    });
  }
  for (const day of recalibratedDays(lines).filter(within)) {
    const exact = exactBuckets(layers, channelId, day, size, lines);
    // Where the raw readings are gone, the whole bucket goes by the calibration at its beginning.
    if (exact.length === 0) continue;
    byDay.set(day, (into) => {
      for (const { atMs, bucket } of exact) into.putCalibrated(atMs, bucket);
    });
  }
  return [...byDay].sort(([a], [b]) => b - a).map(([day, put]) => ({ day, put }));
}

interface Dated {
  readonly atMs: number;
  readonly bucket: Bucket;
}

function freshBuckets(layers: ReadingLayers, channelId: number, day: number, size: BucketSize): Dated[] {
  const start = day * dayMs;
  const hours = hoursOf(layers.day(channelId, day), start);
  if (size === 'hour') return hours.map((bucket) => ({ atMs: start + bucket.hour * hourMs, bucket }));
  const whole = wholeDay(hours);
  return whole ? [{ atMs: start, bucket: whole }] : [];
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
  const byStart = new Map<number, Bucket>();
  atMs.forEach((at, i) => {
    const v = value[i] ?? 0;
    const start = Math.floor(at / width) * width;
    const one = { count: 1, min: v, max: v, sum: v, last: v };
    const before = byStart.get(start);
    byStart.set(start, before ? join(before, one) : one);
  });
  return [...byStart].map(([start, bucket]) => ({ atMs: start, bucket }));
}

/** What begins in the span, in the channel's unit. */
class CalibratedBuckets implements BucketSink {
  readonly #columns = new BucketColumns();
  readonly #span: SpanOfChannel;
  readonly #lines: CalibrationLines;

  constructor(span: SpanOfChannel, lines: LineSpans) {
    this.#span = span;
    this.#lines = new CalibrationLines(lines);
  }

  put(atMs: number, { count, min, max, sum, last }: Bucket): void {
    this.#putMicro(atMs, count, min, max, sum, last);
  }

  putHours(dayStartMs: number, { length, hour, count, min, max, sum, last }: HourColumns): void {
    for (let i = 0; i < length; i += 1) {
      const atMs = dayStartMs + (hour[i] ?? 0) * hourMs;
      this.#putMicro(atMs, count[i] ?? 0, min[i] ?? 0, max[i] ?? 0, sum[i] ?? 0, last[i] ?? 0);
    }
  }

  putCalibrated(atMs: number, { count, min, max, sum, last }: Bucket): void {
    if (atMs < this.#span.fromMs || atMs >= this.#span.toMs) return;
    this.#columns.push(atMs, count, min, max, sum / count, last);
  }

  finish(): Buckets {
    return this.#columns.finish();
  }

  /** By the calibration at its beginning. */
  #putMicro(atMs: number, count: number, min: number, max: number, sum: number, last: number): void {
    if (atMs < this.#span.fromMs || atMs >= this.#span.toMs) return;
    const line = this.#lines.at(atMs);
    const [a, b] = [line.apply(fromMicro(min)), line.apply(fromMicro(max))];
    const mean = line.apply(fromMicro(sum / count));
    this.#columns.push(atMs, count, Math.min(a, b), Math.max(a, b), mean, line.apply(fromMicro(last)));
  }
}
