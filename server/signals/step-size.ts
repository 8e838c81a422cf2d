/** Size of a step in a noisy, sloping series: a robust fit of level, slope and jump around it. */
import { hourMs } from './series.ts';
import { leastSquares } from './statistics/linear.ts';
import { huberWeight, madToSd, median } from './statistics/robust.ts';

export interface StepFit {
  readonly sizeG: number;
  readonly sdG: number;
  readonly residualSd: number;
  /** Level just before, and the slope on both sides. */
  readonly beforeG: number;
  readonly slopeGPerH: number;
  readonly readings: number;
}

/**
 * Fits y = level + slope·t + jump·[t ≥ toMs] to readings outside (fromMs, toMs). Null with fewer than three
 * readings on a side. The standard error is widened by half for residuals that go together.
 */
export function fitStep(
  atMs: readonly number[],
  values: readonly number[],
  fromMs: number,
  toMs: number,
): StepFit | null {
  const rows = atMs.flatMap((at, i) => (at <= fromMs || at >= toMs ? [i] : []));
  const after = rows.filter((i) => (atMs[i] as number) >= toMs).length;
  if (after < 3 || rows.length - after < 3) return null;
  const x = new Float64Array(rows.length * 3);
  const y = new Float64Array(rows.length);
  // Common slope by hours from the step, so that with three readings a side the jump is still determined.
  rows.forEach((index, row) => {
    const at = atMs[index] as number;
    x.set([1, (at - fromMs) / hourMs, at >= toMs ? 1 : 0], row * 3);
    y[row] = values[index] as number;
  });
  const w = new Float64Array(rows.length).fill(1);
  let sd = 0;
  let fit = leastSquares(x, y, w, 3);
  for (let round = 0; round < 8 && fit; round++) {
    const { beta } = fit;
    const residuals = Array.from(y, (v, r) => v - dot3(x, r, beta));
    sd = madToSd * median(residuals.map(Math.abs));
    if (sd < 1e-9) break;
    residuals.forEach((residual, r) => (w[r] = huberWeight(residual / sd)));
    fit = leastSquares(x, y, w, 3) ?? fit;
  }
  if (!fit) return null;
  return {
    sizeG: fit.beta[2] as number,
    sdG: 1.5 * sd * Math.sqrt(fit.inverse[8] as number),
    residualSd: sd,
    beforeG: fit.beta[0] as number,
    slopeGPerH: fit.beta[1] as number,
    readings: rows.length,
  };
}

const dot3 = (x: Float64Array, row: number, beta: Float64Array): number =>
  (x[row * 3] as number) * (beta[0] as number) +
  (x[row * 3 + 1] as number) * (beta[1] as number) +
  (x[row * 3 + 2] as number) * (beta[2] as number);
