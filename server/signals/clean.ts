/** Cleaning: readings that the thing measured can't have done. Each function says which, and changes nothing. */
import { madToSd, medianOfWindow } from './statistics/robust.ts';
import { pick } from './series.ts';
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

/** The series without its readings outside [low, high]; the very same where it has none. */
export function withinRange(series: Series, low: number, high: number): Series {
  const isOut = (v: number): boolean => v < low || v > high;
  for (let i = 0; i < series.value.length; i++) {
    if (isOut(series.value[i] as number)) return pick(series, (k) => !isOut(series.value[k] as number));
  }
  return series;
}

/** Method: readings of a window’s median. */
const leastWindow = 3;
