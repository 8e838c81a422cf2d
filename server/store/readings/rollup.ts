/** Roll-ups: how many readings an hour or a day had, lowest, highest, mean and last, suspects left out. */
import { BitReader, BitWriter } from './bits.ts';
import { hourMs, type DayReadings } from './day-readings.ts';
import { readNumbers, writeNumbers } from './number-column.ts';

/** Values in millionths; `sum` is exact. */
export interface Bucket {
  readonly count: number;
  readonly min: number;
  readonly max: number;
  readonly sum: number;
  readonly last: number;
}

export interface HourBucket extends Bucket {
  /** Hour of the UTC day, 0 to 23. */
  readonly hour: number;
}

export function join(a: Bucket, later: Bucket): Bucket {
  return {
    count: a.count + later.count,
    min: Math.min(a.min, later.min),
    max: Math.max(a.max, later.max),
    sum: a.sum + later.sum,
    last: later.last,
  };
}

/** Hours that have at least one reading that is not suspect, ascending. */
export function hoursOf(readings: DayReadings, dayStartMs: number): HourBucket[] {
  const hours: HourBucket[] = [];
  let open: { -readonly [K in keyof HourBucket]: HourBucket[K] } | undefined;
  for (let i = 0; i < readings.length; i += 1) {
    if (readings.flag[i] !== 0) continue;
    const hour = Math.floor(((readings.atMs[i] ?? 0) - dayStartMs) / hourMs);
    const micro = readings.micro[i] ?? 0;
    if (open?.hour !== hour) {
      open = { hour, count: 0, min: micro, max: micro, sum: 0, last: micro };
      hours.push(open);
    }
    open.count += 1;
    open.min = Math.min(open.min, micro);
    open.max = Math.max(open.max, micro);
    open.sum += micro;
    open.last = micro;
  }
  return hours;
}

/** The day as one bucket; undefined where it has no hour. */
export function wholeDay(hours: readonly HourBucket[]): Bucket | undefined {
  return hours.reduce<Bucket | undefined>((day, hour) => (day ? join(day, hour) : hour), undefined);
}

/** Columns: hours, counts, lowest, and what the others are above the lowest. */
export function encodeHours(hours: readonly HourBucket[]): Uint8Array {
  if (hours.length === 0) return new Uint8Array(0);
  const out = new BitWriter();
  const column = (of: (hour: HourBucket) => number): void => {
    writeNumbers(out, hours.map(of), hours.length);
  };
  out.writeVarint(hours.length);
  column((h) => h.hour);
  column((h) => h.count);
  column((h) => h.min);
  column((h) => h.max - h.min);
  column((h) => h.last - h.min);
  column((h) => h.sum - h.count * h.min);
  return out.finish();
}

/** The hours of a day, the first `length` entries of each column. */
export class HourColumns {
  length = 0;
  readonly hour = new Float64Array(24);
  readonly count = new Float64Array(24);
  readonly min = new Float64Array(24);
  readonly max = new Float64Array(24);
  readonly last = new Float64Array(24);
  readonly sum = new Float64Array(24);
}

export function decodeHours(bytes: Uint8Array, into: HourColumns): void {
  into.length = 0;
  if (bytes.length === 0) return;
  const from = new BitReader(bytes);
  const length = from.readVarint();
  const { hour, count, min, max, last, sum } = into;
  if (length > hour.length) throw new RangeError('a stored day has more than 24 hours');
  for (const column of [hour, count, min, max, last, sum]) readNumbers(from, length, column);
  for (let i = 0; i < length; i += 1) {
    const lowest = min[i] ?? 0;
    max[i] = (max[i] ?? 0) + lowest;
    last[i] = (last[i] ?? 0) + lowest;
    sum[i] = (sum[i] ?? 0) + (count[i] ?? 0) * lowest;
  }
  into.length = length;
}
