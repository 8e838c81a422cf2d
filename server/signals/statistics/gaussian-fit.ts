/**
 * Linear fits with a normal prior on each weight and a known covariance C = L Lᵀ of the rows, of one target on any choice
 * of given columns. After Rasmussen and Williams 2006, §2.7 (explicit basis functions).
 */
import { backward, cholesky, dotOf, forward, inverseOf } from './linear.ts';

export interface NormalPrior {
  readonly mean: Float64Array;
  readonly sd: Float64Array;
}

/** All that a fit has to know of columns and target: their products through C⁻¹, worked out when they are first asked for. */
export interface Products {
  /** Of two columns. */
  readonly product: (k: number, l: number) => number;
  /** Of a column and the target. */
  readonly withTarget: (k: number) => number;
  readonly targetSquared: number;
  /** Logarithm of the determinant of C. */
  readonly logDet: number;
}

export interface Posterior {
  readonly mean: Float64Array;
  /** Row-major; worked out when it is asked for. */
  covariance(): Float64Array;
  /** Square of the target less what was expected, by all that it could have varied: as many as the rows, when the model holds. */
  readonly misfit: number;
  /** Up to a constant that depends on the number of rows alone. */
  readonly logEvidence: number;
}

/** `lower` is the factor L of the rows' covariance. */
export function productsOf(
  columns: readonly Float64Array[],
  target: Float64Array,
  lower: Float64Array,
): Products {
  const n = target.length;
  const p = columns.length;
  const white = (column: Float64Array): Float64Array => {
    const copy = column.slice();
    forward(lower, n, copy);
    return copy;
  };
  const whites: (Float64Array | undefined)[] = [];
  const whiteOf = (k: number): Float64Array => (whites[k] ??= white(columns[k] as Float64Array));
  const off = white(target);
  const byColumn = new Float64Array(p * p).fill(NaN);
  const byTarget = new Float64Array(p).fill(NaN);
  const product = (k: number, l: number): number => {
    const known = byColumn[k * p + l] as number;
    if (!Number.isNaN(known)) return known;
    const found = dotOf(whiteOf(k), 0, whiteOf(l), 0, n);
    byColumn[k * p + l] = byColumn[l * p + k] = found;
    return found;
  };
  const withTarget = (k: number): number => {
    const known = byTarget[k] as number;
    return Number.isNaN(known) ? (byTarget[k] = dotOf(whiteOf(k), 0, off, 0, n)) : known;
  };
  let logDet = 0;
  for (let i = 0; i < n; i++) logDet += 2 * Math.log(lower[i * n + i] as number);
  return { product, withTarget, targetSquared: dotOf(off, 0, off, 0, n), logDet };
}

/**
 * Posterior of the weights of the columns `chosen`, in their order: A = XᵀC⁻¹X + S⁻¹ with the evidence of the data; null
 * when rounding makes A singular. Means far larger than what the data tell apart cost digits: take them off the target.
 */
export function posterior(
  { product: productOf, withTarget, targetSquared, logDet: rowsLogDet }: Products,
  chosen: readonly number[],
  prior: NormalPrior,
): Posterior | null {
  const p = chosen.length;
  const product = (k: number, l: number): number => productOf(chosen[k] as number, chosen[l] as number);
  const a = new Float64Array(p * p);
  const change = new Float64Array(p);
  // Of the target less the columns at their prior means: its products with the columns, and its square.
  let offSquared = targetSquared;
  for (let k = 0; k < p; k++) {
    const told = withTarget(chosen[k] as number);
    let expected = 0;
    for (let l = 0; l < p; l++) {
      expected += product(k, l) * (prior.mean[l] as number);
      if (l <= k) a[k * p + l] = product(k, l);
    }
    a[k * p + k] = (a[k * p + k] as number) + 1 / (prior.sd[k] as number) ** 2;
    change[k] = told - expected;
    offSquared -= (prior.mean[k] as number) * (2 * told - expected);
  }
  if (!cholesky(a, p)) return null;
  forward(a, p, change);
  const explained = dotOf(change, 0, change, 0, p);
  backward(a, p, change);
  let logDet = rowsLogDet;
  for (let k = 0; k < p; k++) logDet += 2 * Math.log((a[k * p + k] as number) * (prior.sd[k] as number));
  return {
    mean: change.map((v, k) => v + (prior.mean[k] as number)),
    covariance: () => inverseOf(a, p),
    misfit: offSquared - explained,
    logEvidence: -0.5 * (offSquared - explained + logDet),
  };
}
