/** Readings and stored buckets summed into equal parts of a span as they come: a season of hours is never held as hours. */
import { CalibrationLines } from './calibration-lines.ts';
import type { BucketSink } from './bucket-span.ts';
import { fromMicro, hourMs } from './day-readings.ts';
import type { LineSpans, SpanOfChannel } from './raw-span.ts';
import type { Bucket, HourColumns } from './rollup.ts';

/** Bins without a reading are absent; `atMs` is the middle of each. */
export interface Binned {
  readonly atMs: Float64Array;
  readonly mean: Float64Array;
  readonly min: Float64Array;
  readonly max: Float64Array;
}

export class PixelBins implements BucketSink {
  readonly #span: SpanOfChannel;
  readonly #lines: CalibrationLines;
  readonly #storedMs: number;
  readonly #widthMs: number;
  readonly #count: Float64Array;
  readonly #sum: Float64Array;
  readonly #min: Float64Array;
  readonly #max: Float64Array;

  /** @param storedMs how long what is put in lasts, 1 for single readings; its middle says which bin it is in */
  constructor(span: SpanOfChannel, bins: number, lines: LineSpans, storedMs: number) {
    this.#span = span;
    this.#lines = new CalibrationLines(lines);
    this.#storedMs = storedMs;
    this.#widthMs = (span.toMs - span.fromMs) / bins;
    this.#count = new Float64Array(bins);
    this.#sum = new Float64Array(bins);
    this.#min = new Float64Array(bins).fill(Infinity);
    this.#max = new Float64Array(bins).fill(-Infinity);
  }

  put(atMs: number, { count, min, max, sum }: Bucket): void {
    const line = this.#lines.at(atMs);
    const [a, b] = [line.apply(fromMicro(min)), line.apply(fromMicro(max))];
    this.#add(atMs, count, a, b, line.apply(fromMicro(sum / count)));
  }

  putHours(dayStartMs: number, { length, hour, count, min, max, sum }: HourColumns): void {
    for (let i = 0; i < length; i += 1) {
      const atMs = dayStartMs + (hour[i] ?? 0) * hourMs;
      const line = this.#lines.at(atMs);
      const n = count[i] ?? 0;
      const a = line.apply(fromMicro(min[i] ?? 0));
      const b = line.apply(fromMicro(max[i] ?? 0));
      this.#add(atMs, n, a, b, line.apply(fromMicro((sum[i] ?? 0) / n)));
    }
  }

  putCalibrated(atMs: number, { count, min, max, sum }: Bucket): void {
    this.#add(atMs, count, min, max, sum / count);
  }

  putReading(atMs: number, value: number): void {
    this.#add(atMs, 1, value, value, value);
  }

  finish(): Binned {
    const filled = this.#count.reduce((sum, count) => (count > 0 ? sum + 1 : sum), 0);
    const column = (): Float64Array => new Float64Array(filled);
    const [atMs, mean, min, max] = [column(), column(), column(), column()];
    let to = 0;
    for (let bin = 0; bin < this.#count.length; bin += 1) {
      const count = this.#count[bin] ?? 0;
      if (count === 0) continue;
      atMs[to] = this.#span.fromMs + (bin + 0.5) * this.#widthMs;
      mean[to] = (this.#sum[bin] ?? 0) / count;
      min[to] = this.#min[bin] ?? 0;
      max[to] = this.#max[bin] ?? 0;
      to += 1;
    }
    return { atMs, mean, min, max };
  }

  /** What reaches over an end of the span is drawn in the bin at that end. */
  #add(atMs: number, count: number, a: number, b: number, mean: number): void {
    const { fromMs, toMs } = this.#span;
    if (atMs + this.#storedMs <= fromMs || atMs >= toMs) return;
    const middle = Math.floor((atMs + this.#storedMs / 2 - fromMs) / this.#widthMs);
    const bin = Math.max(0, Math.min(this.#count.length - 1, middle));
    this.#count[bin] = (this.#count[bin] ?? 0) + count;
    this.#sum[bin] = (this.#sum[bin] ?? 0) + mean * count;
    this.#min[bin] = Math.min(this.#min[bin] ?? 0, a, b);
    this.#max[bin] = Math.max(this.#max[bin] ?? 0, a, b);
  }
}
