/** Fisher's exact test of a two by two table. */
import { gammaln as logGamma } from 'simple-statistics';

export interface TwoByTwo {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
}

/**
 * Rows are groups, columns outcomes. `oneSided` is the chance of `a` or more given the margins; `twoSided` adds all
 * tables no likelier than the one seen, as R's fisher.test does.
 */
export function fisherExact({ a, b, c, d }: TwoByTwo): {
  readonly oneSided: number;
  readonly twoSided: number;
} {
  const row = a + b;
  const column = a + c;
  const n = a + b + c + d;
  const least = Math.max(0, column - (c + d));
  const most = Math.min(row, column);
  const logChoose = (m: number, k: number): number => logGamma(m + 1) - logGamma(k + 1) - logGamma(m - k + 1);
  const chance = (k: number): number =>
    Math.exp(logChoose(row, k) + logChoose(n - row, column - k) - logChoose(n, column));
  const seen = chance(a);
  let oneSided = 0;
  let twoSided = 0;
  for (let k = least; k <= most; k++) {
    const p = chance(k);
    if (k >= a) oneSided += p;
    // A relative slack for tables whose chance is equal but for rounding.
    if (p <= seen * (1 + 1e-7)) twoSided += p;
  }
  return { oneSided: Math.min(1, oneSided), twoSided: Math.min(1, twoSided) };
}
