/** Intervals for shares and medians. */

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** Level of the intervals of all signals, its ends, and how many standard deviations of a normal they lie out. */
export const level90 = 0.9;
export const ends90 = { low: 0.05, middle: 0.5, high: 0.95 } as const;
export const z90 = 1.645;
/** Probabilities of a sample’s ends that a few wild values don’t reach. */
export const tenths = { low: 0.1, middle: 0.5, high: 0.9 } as const;

/** Of a normal: 90th less 10th percentile in sd, and the errors of the median and of that spread in sd ∕ √n. */
export const ofNormal = { tenthsSd: 2.563, medianError: 1.253, tenthsError: 2.4 } as const;

const z95 = 1.959963984540054;

/** Wilson's score interval for `hits` of `n`, 95 % unless told (Wilson 1927; Newcombe 1998 recommends it). [0, 1] for n = 0. */
export function wilson(hits: number, n: number, z = z95): Interval {
  if (n === 0) return { low: 0, high: 1 };
  const p = hits / n;
  const z2 = z * z;
  const centre = p + z2 / (2 * n);
  const half = z * Math.sqrt((p * (1 - p)) / n + z2 / (4 * n * n));
  const scale = 1 + z2 / n;
  // Exactly 0 and 1 at the ends, where rounding would leave a trace.
  return {
    low: hits === 0 ? 0 : (centre - half) / scale,
    high: hits === n ? 1 : (centre + half) / scale,
  };
}

/** Median with the 95 % interval from order statistics (normal approximation of the sign test); throws on an empty list. */
export function medianInterval(values: readonly number[]): Interval & { readonly median: number } {
  const sorted = [...values].sort((a, b) => a - b);
  const n = sorted.length;
  if (n === 0) throw new Error('an empty list has no middle');
  const half = (z95 * Math.sqrt(n)) / 2;
  const at = (index: number): number => sorted[Math.min(n - 1, Math.max(0, index))] as number;
  return {
    median: (at((n - 1) >> 1) + at(n >> 1)) / 2,
    low: at(Math.floor(n / 2 - half) - 1 < 0 ? 0 : Math.floor(n / 2 - half)),
    high: at(Math.ceil(n / 2 + half)),
  };
}
