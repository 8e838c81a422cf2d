/** Robust location, spread and lines. Quantiles come from simple-statistics, and so do the values that tests hold medians to. */
import { quantileSorted } from 'simple-statistics';
import { medianInPlace } from './selection.ts';

/** MAD times this estimates the standard deviation of normal data: 1 / Φ⁻¹(0.75). */
export const madToSd = 1.4826;

/** A sorted copy. The library asks for an array and reads an index at a time, which numbers packed together answer as well. */
const sorted = (values: ArrayLike<number>): number[] =>
  new Float64Array(values).sort() as unknown as number[];

/** Median; NaN of an empty list. */
export const median = (values: ArrayLike<number>): number => medianInPlace(new Float64Array(values));

/** Median of the distances from `centre`; `distance` is written over. */
function medianDistance(
  values: ArrayLike<number>,
  centre: number,
  distance = new Float64Array(values.length),
): number {
  for (let i = 0; i < distance.length; i++) distance[i] = Math.abs((values[i] as number) - centre);
  return medianInPlace(distance);
}

/** Standard deviation by the median absolute deviation; 0 for constant data, NaN of an empty list. */
export const robustSd = (values: ArrayLike<number>): number =>
  madToSd * medianDistance(values, median(values));

/** Median of a part of a list, into which it sorts nothing: for short windows in hot loops. */
export function medianOfWindow(
  values: ArrayLike<number>,
  from: number,
  to: number,
  scratch: Float64Array,
): number {
  const n = to - from;
  for (let i = 0; i < n; i++) {
    const v = values[from + i] as number;
    let j = i - 1;
    while (j >= 0 && (scratch[j] as number) > v) {
      scratch[j + 1] = scratch[j] as number;
      j--;
    }
    scratch[j + 1] = v;
  }
  const half = n >>> 1;
  return n % 2 === 1
    ? (scratch[half] as number)
    : ((scratch[half - 1] as number) + (scratch[half] as number)) / 2;
}

/** Medians of all windows of `width` values, by the index of their first; none where fewer are left. */
export function runningMedians(values: ArrayLike<number>, width: number): Float64Array {
  const n = values.length - width + 1;
  if (n < 1) return new Float64Array(0);
  const medians = new Float64Array(n);
  const window = Float64Array.from({ length: width }, (_, i) => values[i] as number).sort();
  const half = width >>> 1;
  for (let i = 0; ; i++) {
    medians[i] =
      width % 2 === 1
        ? (window[half] as number)
        : ((window[half - 1] as number) + (window[half] as number)) / 2;
    if (i + 1 >= n) return medians;
    replaceInSorted(window, values[i] as number, values[i + width] as number);
  }
}

/** Takes one `old` out of an ascending list and puts `fresh` in its order. */
function replaceInSorted(sorted: Float64Array, old: number, fresh: number): void {
  let at = 0;
  while ((sorted[at] as number) < old) at++;
  while (at + 1 < sorted.length && (sorted[at + 1] as number) < fresh) {
    sorted[at] = sorted[at + 1] as number;
    at++;
  }
  while (at > 0 && (sorted[at - 1] as number) > fresh) {
    sorted[at] = sorted[at - 1] as number;
    at--;
  }
  sorted[at] = fresh;
}

/** Quantiles `ps` of a non-empty list. */
export function quantiles(values: ArrayLike<number>, ...ps: number[]): number[] {
  const ascending = sorted(values);
  return ps.map((p) => quantileSorted(ascending, p));
}

/** Huber's weights for residuals in units of their spread; 1 within `cut`. */
export const huberWeight = (z: number, cut = 1.345): number => (Math.abs(z) <= cut ? 1 : cut / Math.abs(z));

export interface RobustLine {
  readonly slope: number;
  /** Value at x = 0. */
  readonly intercept: number;
  readonly residualSd: number;
  /** Standard errors, for independent residuals. */
  readonly slopeSe: number;
  /** Standard error of the line's value at the mean of x. */
  readonly levelSe: number;
  readonly xMean: number;
  readonly n: number;
}

/** Straight line by iterated Huber weights; null with fewer than three points or no spread in x. */
export function robustLine(x: ArrayLike<number>, y: ArrayLike<number>): RobustLine | null {
  const n = Math.min(x.length, y.length);
  if (n < 3) return null;
  const weight = new Float64Array(n).fill(1);
  const residual = new Float64Array(n);
  const scratch = new Float64Array(n);
  let fit = weightedLine(x, y, weight);
  if (!fit) return null;
  let sd = 0;
  for (let round = 0; round < 20; round++) {
    for (let i = 0; i < n; i++) residual[i] = (y[i] as number) - fit.intercept - fit.slope * (x[i] as number);
    sd = madToSd * medianDistance(residual, 0, scratch);
    if (sd < 1e-12) break;
    for (let i = 0; i < n; i++) weight[i] = huberWeight((residual[i] as number) / sd);
    const next = weightedLine(x, y, weight);
    if (!next) break;
    const moved =
      Math.abs(next.slope - fit.slope) * Math.sqrt(fit.sxx / fit.sw) + Math.abs(next.yMean - fit.yMean);
    fit = next;
    if (moved < 1e-6 * sd) break;
  }
  return {
    slope: fit.slope,
    intercept: fit.intercept,
    residualSd: sd,
    slopeSe: sd / Math.sqrt(fit.sxx),
    levelSe: sd / Math.sqrt(fit.sw),
    xMean: fit.xMean,
    n,
  };
}

function weightedLine(x: ArrayLike<number>, y: ArrayLike<number>, w: Float64Array) {
  let sw = 0;
  let sx = 0;
  let sy = 0;
  for (let i = 0; i < w.length; i++) {
    const wi = w[i] as number;
    sw += wi;
    sx += wi * (x[i] as number);
    sy += wi * (y[i] as number);
  }
  const xMean = sx / sw;
  const yMean = sy / sw;
  let sxx = 0;
  let sxy = 0;
  for (let i = 0; i < w.length; i++) {
    const dx = (x[i] as number) - xMean;
    sxx += (w[i] as number) * dx * dx;
    sxy += (w[i] as number) * dx * ((y[i] as number) - yMean);
  }
  if (!(sxx > 0)) return null;
  const slope = sxy / sxx;
  return { slope, intercept: yMean - slope * xMean, sxx, sw, xMean, yMean };
}
