/** Small dense linear algebra for fits of a few hundred rows: Cholesky, and weighted least squares by it. */

/** What is left of a diagonal element below this share of it is rounding: the columns depend on each other. */
const rounding = 1e-12;

/** Sum of products of two runs of `n` numbers; four sums side by side, since each addition waits for the one before. */
export function dotOf(a: Float64Array, fromA: number, b: Float64Array, fromB: number, n: number): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let k = 0;
  for (; k + 3 < n; k += 4) {
    s0 += (a[fromA + k] as number) * (b[fromB + k] as number);
    s1 += (a[fromA + k + 1] as number) * (b[fromB + k + 1] as number);
    s2 += (a[fromA + k + 2] as number) * (b[fromB + k + 2] as number);
    s3 += (a[fromA + k + 3] as number) * (b[fromB + k + 3] as number);
  }
  for (; k < n; k++) s0 += (a[fromA + k] as number) * (b[fromB + k] as number);
  return s0 + s1 + (s2 + s3);
}

/**
 * Lower Cholesky factor, row-major, in place of the matrix given; false when it is not positive definite. Two rows by two
 * columns at a time, so that each number that is fetched serves twice.
 */
export function cholesky(matrix: Float64Array, n: number): boolean {
  const pairs = n - (n % 2);
  for (let i = 0; i < pairs; i += 2) {
    for (let j = 0; j < i; j += 2) twoByTwo(matrix, n, i, j);
    if (!lastOfRow(matrix, n, i, i)) return false;
    if (!lastOfRow(matrix, n, i + 1, i)) return false;
  }
  return pairs === n || lastOfRow(matrix, n, pairs, 0);
}

/** Elements (i, j) to (i + 1, j + 1) of the factor, where all before them in rows i, i + 1, j and j + 1 are known. */
function twoByTwo(matrix: Float64Array, n: number, i: number, j: number): void {
  const [a, b, c, d] = [i * n, (i + 1) * n, j * n, (j + 1) * n] as const;
  let ac = matrix[a + j] as number;
  let ad = matrix[a + j + 1] as number;
  let bc = matrix[b + j] as number;
  let bd = matrix[b + j + 1] as number;
  for (let k = 0; k < j; k++) {
    const ofA = matrix[a + k] as number;
    const ofB = matrix[b + k] as number;
    const ofC = matrix[c + k] as number;
    const ofD = matrix[d + k] as number;
    ac -= ofA * ofC;
    ad -= ofA * ofD;
    bc -= ofB * ofC;
    bd -= ofB * ofD;
  }
  const atC = matrix[c + j] as number;
  const dc = matrix[d + j] as number;
  const atD = matrix[d + j + 1] as number;
  matrix[a + j] = ac /= atC;
  matrix[b + j] = bc /= atC;
  matrix[a + j + 1] = (ad - ac * dc) / atD;
  matrix[b + j + 1] = (bd - bc * dc) / atD;
}

/** The rest of row i from element `from` to the diagonal; false where that is not positive. */
function lastOfRow(matrix: Float64Array, n: number, i: number, from: number): boolean {
  const row = i * n;
  for (let j = from; j <= i; j++) {
    const other = j * n;
    const given = matrix[row + j] as number;
    const sum = given - dotOf(matrix, row, matrix, other, j);
    if (j < i) matrix[row + j] = sum / (matrix[other + j] as number);
    else if (sum > rounding * given) matrix[row + i] = Math.sqrt(sum);
    else return false;
  }
  return true;
}

/** Solves L x = b for a lower factor L; in place. */
export function forward(lower: Float64Array, n: number, b: Float64Array): void {
  for (let i = 0; i < n; i++) {
    b[i] = ((b[i] as number) - dotOf(lower, i * n, b, 0, i)) / (lower[i * n + i] as number);
  }
}

/** Solves Lᵀ x = b for a lower factor L; in place. */
export function backward(lower: Float64Array, n: number, b: Float64Array): void {
  for (let i = n - 1; i >= 0; i--) {
    let sum = b[i] as number;
    for (let k = i + 1; k < n; k++) sum -= (lower[k * n + i] as number) * (b[k] as number);
    b[i] = sum / (lower[i * n + i] as number);
  }
}

/** Inverse, row-major, of the matrix whose lower factor is given. */
export function inverseOf(lower: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n);
  const unit = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    unit.fill(0);
    unit[k] = 1;
    forward(lower, n, unit);
    backward(lower, n, unit);
    inverse.set(unit, k * n);
  }
  return inverse;
}

export interface LeastSquares {
  readonly beta: Float64Array;
  /** Inverse of XᵀWX, row-major: times the residual variance it is the covariance. */
  readonly inverse: Float64Array;
}

/** Weighted least squares on rows of `p` regressors; null when they do not determine the answer. */
export function leastSquares(
  x: Float64Array,
  y: Float64Array,
  w: Float64Array,
  p: number,
): LeastSquares | null {
  const normal = new Float64Array(p * p);
  const right = new Float64Array(p);
  for (let i = 0; i < y.length; i++) {
    const wi = w[i] as number;
    for (let a = 0; a < p; a++) {
      const xa = wi * (x[i * p + a] as number);
      right[a] = (right[a] as number) + xa * (y[i] as number);
      for (let b = 0; b <= a; b++)
        normal[a * p + b] = (normal[a * p + b] as number) + xa * (x[i * p + b] as number);
    }
  }
  if (!cholesky(normal, p)) return null;
  forward(normal, p, right);
  backward(normal, p, right);
  return right.every(Number.isFinite) ? { beta: right, inverse: inverseOf(normal, p) } : null;
}
