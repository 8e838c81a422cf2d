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
    if (to - from < leastWindow || mostAreNear(series.value, i, from, to, floor)) continue;
    const middle = medianOfWindow(series.value, from, to, scratch);
    const off = Math.abs((series.value[i] as number) - middle);
    if (off <= floor) continue;
    for (let j = from; j < to; j++) distance[j - from] = Math.abs((series.value[j] as number) - middle);
    const sd = madToSd * medianOfWindow(distance, 0, to - from, scratch);
    if (off > cut * sd) marks[i] = 1;
  }
  return marks;
}

/** Whether more than half of the window lies within `floor` of reading `i`: so does its median then, and it is no spike. */
function mostAreNear(values: Float64Array, i: number, from: number, to: number, floor: number): boolean {
  const own = values[i] as number;
  const wanted = ((to - from) >> 1) + 1;
  let near = 0;
  for (let j = from; j < to; j++) {
    if (Math.abs((values[j] as number) - own) <= floor && ++near === wanted) return true;
  }
  return false;
}

/** Readings outside [low, high]. */
export function outOfRange(series: Series, low: number, high: number): Marks {
  const marks = new Uint8Array(series.value.length);
  for (let i = 0; i < marks.length; i++) {
    const v = series.value[i] as number;
    if (v < low || v > high) marks[i] = 1;
  }
  return marks;
}

/** Method: readings of a window’s median; bits of a probe’s step that make two values one. */
const [leastWindow, sameC] = [3, 0.005];

/** Setting: values that common digital probes send when they have measured nothing; see the survey of sensors. */
export const probeSentinelsC: readonly number[] = [85, 127.94, -127];

/**
 * Readings with a sentinel value that stand apart from their neighbours: 85 °C is a sentinel next to 34 °C
 * and a measurement next to 84 °C.
 */
export function sentinels(series: Series, values: readonly number[], apart: number): Marks {
  const n = series.value.length;
  const marks = new Uint8Array(n);
  const isSentinel = (i: number): boolean => {
    const own = series.value[i] as number;
    for (let k = 0; k < values.length; k++) if (Math.abs(own - (values[k] as number)) < sameC) return true;
    return false;
  };
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
