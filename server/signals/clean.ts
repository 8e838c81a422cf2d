/** Cleaning: readings that the thing measured can't have done. Each function says which, and changes nothing. */
import { madToSd, medianOfWindow } from './statistics/robust.ts';
import type { Series } from './types.ts';

/** Marks of suspect readings, one a reading. */
export type Marks = Uint8Array;

export interface HampelOptions {
  /** Readings on each side of the one looked at. */
  readonly halfWindow: number;
  /** Distance from the window's median, in robust standard deviations, from which a reading is a spike. */
  readonly cut: number;
  /** Least distance that is called a spike, in the series' unit: no finer than the sensor's own steps. */
  readonly floor: number;
}

/**
 * Hampel filter: readings further from the median of their window than `cut` robust deviations and `floor`.
 * Windows are shortened at the ends. A run of outliers up to half the window is found; a lasting step is not one.
 */
export function hampel(series: Series, options: HampelOptions): Marks {
  const { halfWindow, cut, floor } = options;
  const n = series.value.length;
  const marks = new Uint8Array(n);
  const scratch = new Float64Array(2 * halfWindow + 1);
  const distance = new Float64Array(2 * halfWindow + 1);
  for (let i = 0; i < n; i++) {
    const from = Math.max(0, i - halfWindow);
    const to = Math.min(n, i + halfWindow + 1);
    if (to - from < 3) continue;
    const middle = medianOfWindow(series.value, from, to, scratch);
    const off = Math.abs((series.value[i] as number) - middle);
    if (off <= floor) continue;
    for (let j = from; j < to; j++) distance[j - from] = Math.abs((series.value[j] as number) - middle);
    const sd = madToSd * medianOfWindow(distance, 0, to - from, scratch);
    if (off > cut * sd) marks[i] = 1;
  }
  return marks;
}

/** Readings outside [low, high]. */
export function outOfRange(series: Series, low: number, high: number): Marks {
  return Uint8Array.from(series.value, (v) => (v < low || v > high ? 1 : 0));
}

/** Values that common digital probes send when they have measured nothing; see the survey of sensors. */
export const probeSentinelsC: readonly number[] = [85, 127.94, -127];

/**
 * Readings with a sentinel value that stand apart from their neighbours: 85 °C is a sentinel next to 34 °C
 * and a measurement next to 84 °C.
 */
export function sentinels(series: Series, values: readonly number[], apart: number): Marks {
  const n = series.value.length;
  const marks = new Uint8Array(n);
  const isSentinel = (i: number): boolean =>
    values.some((v) => Math.abs((series.value[i] as number) - v) < 0.005);
  let lastReal = NaN;
  for (let i = 0; i < n; i++) {
    if (!isSentinel(i)) {
      lastReal = series.value[i] as number;
      continue;
    }
    let next = i + 1;
    while (next < n && isSentinel(next)) next++;
    const near = [lastReal, next < n ? (series.value[next] as number) : NaN].some(
      (v) => Math.abs(v - (series.value[i] as number)) < apart,
    );
    if (!near) marks[i] = 1;
  }
  return marks;
}

/** Spans in which the value did not move by a digit for at least `minMs` and `minReadings` readings. */
export function stuckSpans(
  series: Series,
  minMs: number,
  minReadings: number,
): { fromMs: number; toMs: number; value: number }[] {
  const spans: { fromMs: number; toMs: number; value: number }[] = [];
  const n = series.value.length;
  let start = 0;
  for (let i = 1; i <= n; i++) {
    if (i < n && series.value[i] === series.value[start]) continue;
    const fromMs = series.atMs[start] as number;
    const toMs = series.atMs[i - 1] as number;
    if (i - start >= minReadings && toMs - fromMs >= minMs) {
      spans.push({ fromMs, toMs, value: series.value[start] as number });
    }
    start = i;
  }
  return spans;
}
