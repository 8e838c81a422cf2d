/** Ten-minute medians: the grain in which days are kept once they have been looked at. */
import { median, medianOfWindow } from './statistics/robust.ts';
import type { LocalDay } from './days.ts';
import { between, hourMs, indexAt, minuteMs } from './series.ts';
import type { Series } from './types.ts';

/** Method: all series meet on this grid. */
export const binMs = 10 * minuteMs;

/** Medians of ten-minute bins that hold a reading, by the middle of the bin; `count` readings each. */
export interface Bins {
  readonly atMs: Float64Array;
  readonly value: Float64Array;
  readonly count: Uint16Array;
}

/** Up to so many readings in a bin sorting by hand is quicker. */
const few = 24;

const scratch = new Float64Array(few);

const binAt = (atMs: number | undefined): number => Math.floor((atMs ?? NaN) / binMs);

export function binsOf(series: Series): Bins {
  const n = series.atMs.length;
  const most = n === 0 ? 0 : Math.min(n, binAt(series.atMs[n - 1]) - binAt(series.atMs[0]) + 1);
  const [atMs, value, count] = [new Float64Array(most), new Float64Array(most), new Uint16Array(most)];
  let bins = 0;
  for (let from = 0; from < n;) {
    const bin = binAt(series.atMs[from]);
    let to = from + 1;
    while (to < n && binAt(series.atMs[to]) === bin) to++;
    atMs[bins] = (bin + 0.5) * binMs;
    value[bins] =
      to - from > few
        ? median(series.value.subarray(from, to))
        : medianOfWindow(series.value, from, to, scratch);
    count[bins] = to - from;
    bins += 1;
    from = to;
  }
  if (bins === most) return { atMs, value, count };
  return { atMs: atMs.slice(0, bins), value: value.slice(0, bins), count: count.slice(0, bins) };
}

/** Bins of a day. One that midnight parts, as at UTC+5:45, is whole in the day that begins in it: else both would hold it. */
export const binsOfDay = (series: Series, { fromMs, toMs }: LocalDay): Bins => {
  const [from, to] = [fromMs, toMs].map((atMs) => Math.floor(atMs / binMs) * binMs) as [number, number];
  return binsOf(between(series, from, to));
};

/** Those whose middle lies before an instant, as a view on the same memory. */
export function seriesUntil({ atMs, value }: Series, untilMs: number): Series {
  const n = indexAt({ atMs, value }, untilMs);
  return { atMs: atMs.subarray(0, n), value: value.subarray(0, n) };
}

/** Series of neighbouring spans, one after the other. */
export function joinSeries(parts: readonly Series[]): Series {
  const n = parts.reduce((sum, part) => sum + part.atMs.length, 0);
  const joined = { atMs: new Float64Array(n), value: new Float64Array(n) };
  let at = 0;
  for (const part of parts) {
    joined.atMs.set(part.atMs, at);
    joined.value.set(part.value, at);
    at += part.atMs.length;
  }
  return joined;
}

/** Bins of neighbouring spans, one after the other. */
export function joinBins(parts: readonly Bins[]): Bins {
  const joined = joinSeries(parts);
  const count = new Uint16Array(joined.atMs.length);
  let at = 0;
  for (const part of parts) {
    count.set(part.count, at);
    at += part.count.length;
  }
  return { atMs: joined.atMs, value: joined.value, count };
}

/**
 * Value of a series at an instant by a straight line between its neighbours, or the nearest one within
 * `reachMs`; NaN further away than that.
 */
export function valueAt(series: Series, atMs: number, reachMs = hourMs): number {
  const next = indexAt(series, atMs);
  const before = next > 0 ? (series.atMs[next - 1] as number) : -Infinity;
  const after = next < series.atMs.length ? (series.atMs[next] as number) : Infinity;
  if (after - before <= 2 * reachMs) {
    const share = (atMs - before) / (after - before);
    return (series.value[next - 1] as number) * (1 - share) + (series.value[next] as number) * share;
  }
  if (after - atMs <= reachMs) return series.value[next] as number;
  return atMs - before <= reachMs ? (series.value[next - 1] as number) : NaN;
}

/** Method: after a gap of so many hours … */
const forgottenHours = 6;
/** Method: … or of so many lags, a lag has forgotten where it was. */
const forgottenLags = 6;

/** Follows a series with a first-order lag of `lagMs`; starts at its first value, restarts after a gap of six lags or hours. */
export function lagged(series: Series, lagMs: number): Series {
  const n = series.atMs.length;
  const value = new Float64Array(n);
  let state = NaN;
  // Most steps are of one length, and an exponential is most of the work.
  let known = NaN;
  let decay = 0;
  for (let i = 0; i < n; i++) {
    const v = series.value[i] as number;
    const step = i > 0 ? (series.atMs[i] as number) - (series.atMs[i - 1] as number) : 0;
    if (i === 0 || step > Math.max(forgottenHours * hourMs, forgottenLags * lagMs)) state = v;
    else if (lagMs > 0) {
      // Exact for a straight line between the two readings.
      if (step !== known) {
        known = step;
        decay = Math.exp(-step / lagMs);
      }
      const before = series.value[i - 1] as number;
      const rate = (v - before) / step;
      state = v - rate * lagMs + (state - before + rate * lagMs) * decay;
    } else state = v;
    value[i] = state;
  }
  return { atMs: series.atMs, value };
}
