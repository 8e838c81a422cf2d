/** Trend without a shape: Mann-Kendall's test and Sen's slope. */
import { median } from './robust.ts';
import { normalBelow } from './mixture.ts';

export interface MannKendall {
  readonly s: number;
  readonly variance: number;
  readonly z: number;
  /** Two-sided. */
  readonly p: number;
}

/** Mann-Kendall's test with the tie correction and continuity; the normal approximation wants some ten values. */
export function mannKendall(values: readonly number[]): MannKendall {
  const n = values.length;
  let s = 0;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) s += Math.sign((values[j] as number) - (values[i] as number));
  }
  const ties = new Map<number, number>();
  for (const v of values) ties.set(v, (ties.get(v) ?? 0) + 1);
  const spread = (m: number): number => m * (m - 1) * (2 * m + 5);
  const variance = (spread(n) - [...ties.values()].reduce((sum, t) => sum + spread(t), 0)) / 18;
  const z = variance === 0 ? 0 : (s - Math.sign(s)) / Math.sqrt(variance);
  return { s, variance, z, p: 2 * normalBelow(-Math.abs(z)) };
}

/** Median slope between all pairs with different x; NaN with fewer than two. */
export function senSlope(values: readonly number[], x: readonly number[] = values.map((_, i) => i)): number {
  const slopes: number[] = [];
  for (let i = 0; i < values.length; i++) {
    for (let j = i + 1; j < values.length; j++) {
      const dx = (x[j] as number) - (x[i] as number);
      if (dx !== 0) slopes.push(((values[j] as number) - (values[i] as number)) / dx);
    }
  }
  return slopes.length === 0 ? NaN : median(slopes);
}
