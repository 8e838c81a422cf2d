/**
 * Linear fit with a normal prior on each weight and a known covariance C = L Lᵀ of the rows.
 * After Rasmussen and Williams 2006, §2.7 (explicit basis functions). Columns and target come whitened: L⁻¹ x, L⁻¹ y.
 */
import { backward, cholesky, forward } from './linear.ts';

export interface NormalPrior {
  readonly mean: Float64Array;
  readonly sd: Float64Array;
}

export interface WhitenedTarget {
  readonly white: Float64Array;
  /** Logarithm of the determinant of C. */
  readonly logDet: number;
}

export interface Posterior {
  readonly mean: Float64Array;
  readonly variance: Float64Array;
  /** Up to a constant that depends on the number of rows alone. */
  readonly logEvidence: number;
}

export function whitenedTarget(y: Float64Array, lower: Float64Array, n: number): WhitenedTarget {
  const white = y.slice();
  forward(lower, n, white);
  let logDet = 0;
  for (let i = 0; i < n; i++) logDet += 2 * Math.log(lower[i * n + i] as number);
  return { white, logDet };
}

/** Posterior of the weights: A = XᵀC⁻¹X + S⁻¹ with the evidence of the data; null when rounding makes A singular. */
export function posterior(
  columns: readonly Float64Array[],
  target: WhitenedTarget,
  prior: NormalPrior,
): Posterior | null {
  const p = columns.length;
  const off = target.white.slice();
  columns.forEach((column, k) => {
    const mean = prior.mean[k] as number;
    for (let i = 0; i < off.length; i++) off[i] = (off[i] as number) - mean * (column[i] as number);
  });
  const a = new Float64Array(p * p);
  const change = new Float64Array(p);
  columns.forEach((column, k) => {
    change[k] = dot(column, off);
    for (let l = 0; l <= k; l++) a[k * p + l] = dot(column, columns[l] as Float64Array);
    a[k * p + k] = (a[k * p + k] as number) + 1 / (prior.sd[k] as number) ** 2;
  });
  if (!cholesky(a, p)) return null;
  forward(a, p, change);
  const explained = dot(change, change);
  backward(a, p, change);
  let logDet = target.logDet;
  const variance = new Float64Array(p);
  for (let k = 0; k < p; k++) {
    logDet += 2 * Math.log((a[k * p + k] as number) * (prior.sd[k] as number));
    const unit = new Float64Array(p);
    unit[k] = 1;
    forward(a, p, unit);
    variance[k] = dot(unit, unit);
  }
  return {
    mean: change.map((v, k) => v + (prior.mean[k] as number)),
    variance,
    logEvidence: -0.5 * (dot(off, off) - explained + logDet),
  };
}

/** What the weights leave of `y`, columns as they are. */
export const residuals = (
  y: Float64Array,
  columns: readonly Float64Array[],
  weights: Float64Array,
): Float64Array =>
  y.map((v, i) =>
    columns.reduce((left, column, k) => left - (column[i] as number) * (weights[k] as number), v),
  );

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}
