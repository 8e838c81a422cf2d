/** Cutting and joining series. */
import { selectInPlace } from './statistics/selection.ts';
import type { Series } from './types.ts';
export { hourMs, minuteMs } from '../durations.ts';

export const emptySeries: Series = { atMs: new Float64Array(0), value: new Float64Array(0) };

/** Index of the first reading at or after `atMs`; the length when there is none. */
export function indexAt(series: Series, atMs: number): number {
  let low = 0;
  let high = series.atMs.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((series.atMs[middle] as number) < atMs) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Readings in [fromMs, toMs), as a view on the same memory; the series itself where that is all of it. */
export function between(series: Series | undefined, fromMs: number, toMs: number): Series {
  if (!series) return emptySeries;
  const from = indexAt(series, fromMs);
  const to = Math.max(from, indexAt(series, toMs));
  if (from === 0 && to === series.atMs.length) return series;
  return { atMs: series.atMs.subarray(from, to), value: series.value.subarray(from, to) };
}

/** A series of the readings that `keep` marks. */
export function pick(series: Series, keep: (index: number) => boolean): Series {
  const atMs: number[] = [];
  const value: number[] = [];
  for (let i = 0; i < series.atMs.length; i++) {
    if (!keep(i)) continue;
    atMs.push(series.atMs[i] as number);
    value.push(series.value[i] as number);
  }
  return { atMs: Float64Array.from(atMs), value: Float64Array.from(value) };
}

/**
 * A series out of readings in any order: sorted, without non-finite ones, the first of those with the
 * same instant kept (as the store keeps it).
 */
export function seriesOf(readings: readonly { readonly atMs: number; readonly value: number }[]): Series {
  const good = readings.filter((r) => Number.isFinite(r.atMs) && Number.isFinite(r.value));
  const sorted = good.map((reading, order) => ({ reading, order }));
  sorted.sort((a, b) => a.reading.atMs - b.reading.atMs || a.order - b.order);
  const unique = sorted.filter((entry, i) => entry.reading.atMs !== sorted[i - 1]?.reading.atMs);
  return {
    atMs: Float64Array.from(unique, (entry) => entry.reading.atMs),
    value: Float64Array.from(unique, (entry) => entry.reading.value),
  };
}

/** Method: two gaps tell an interval, one does not. */
const leastForInterval = 3;

/** Usual distance of neighbouring readings, ms: the median; null with fewer than three readings. */
export function usualIntervalMs(series: Series): number | null {
  const n = series.atMs.length;
  if (n < leastForInterval) return null;
  const gaps = new Float64Array(n - 1);
  for (let i = 1; i < n; i++) gaps[i - 1] = (series.atMs[i] as number) - (series.atMs[i - 1] as number);
  return selectInPlace(gaps, gaps.length >>> 1);
}

/** The newest reading at or before `atMs`. */
export function latest(series: Series | undefined, atMs: number): { atMs: number; value: number } | null {
  if (!series) return null;
  const index = indexAt(series, atMs + 1) - 1;
  if (index < 0) return null;
  return { atMs: series.atMs[index] as number, value: series.value[index] as number };
}
