/** Size of a step in a noisy, sloping series: a robust fit of level, slope and jump around it. */
import { weightSlopeGPerH } from '../../biology/scale-figures.ts';
import { hourMs } from '../series.ts';
import { leastSquares } from '../statistics/linear.ts';
import { huberWeight, madToSd, median } from '../statistics/robust.ts';

export interface StepFit {
  readonly sizeG: number;
  readonly sdG: number;
  readonly residualSd: number;
  /** Level just before, and the slope on both sides. */
  readonly beforeG: number;
  readonly slopeGPerH: number;
  readonly readings: number;
}

/** As known before looking: it costs the jump half its error. */
const slopeSdGPerH = weightSlopeGPerH.value;
/** Method: level, slope and jump. */
const terms = 3;
/** Method: rounds of Huber’s weights. */
const rounds = 8;
/** Method: error of a Huber line against least squares. */
const huberError = 1.25;
/** Method: readings on a side without which there is no level. */
export const leastOnASide = 3;

/**
 * Fits y = level + slope·t + jump·[t ≥ toMs] to readings outside (fromMs, toMs). Null with fewer than three
 * readings on a side. The standard error is widened by a quarter for residuals that go together.
 */
export function fitStep(
  atMs: readonly number[],
  values: readonly number[],
  fromMs: number,
  toMs: number,
): StepFit | null {
  const rows = atMs.flatMap((at, i) => (at > fromMs && at < toMs ? [] : [i]));
  const after = rows.filter((i) => (atMs[i] as number) >= toMs).length;
  const n = rows.length;
  if (after < leastOnASide || n - after < leastOnASide) return null;
  // One row more holds the slope's prior.
  const x = new Float64Array((n + 1) * terms);
  const y = new Float64Array(n + 1);
  const shiftG = values[rows[0] as number] as number;
  rows.forEach((index, row) => {
    const at = atMs[index] as number;
    x.set([1, (at - fromMs) / hourMs, at >= toMs ? 1 : 0], row * terms);
    y[row] = (values[index] as number) - shiftG;
  });
  x[n * terms + 1] = 1;
  const w = new Float64Array(n + 1).fill(1);
  let sd = Math.max(
    1,
    spreadOfSides(
      rows.map((i) => values[i] as number),
      n - after,
    ),
  );
  let fit = null;
  for (let round = 0; round < rounds; round++) {
    w[n] = (sd / slopeSdGPerH) ** 2;
    const next = leastSquares(x, y, w, terms);
    if (!next) break;
    fit = next;
    const { beta } = next;
    const residuals = Array.from({ length: n }, (_, r) => (y[r] as number) - dot3(x, r, beta));
    sd = Math.max(1, madToSd * median(residuals.map(Math.abs)) * Math.sqrt(n / (n - 2)));
    residuals.forEach((residual, r) => (w[r] = huberWeight(residual / sd)));
  }
  if (!fit) return null;
  return {
    sizeG: fit.beta[2] as number,
    sdG: huberError * sd * Math.sqrt(fit.inverse.at(-1) as number),
    residualSd: sd,
    beforeG: (fit.beta[0] as number) + shiftG,
    slopeGPerH: fit.beta[1] as number,
    readings: n,
  };
}

/** Robust spread about each side's own median. */
function spreadOfSides(values: readonly number[], before: number): number {
  const sides = [values.slice(0, before), values.slice(before)];
  const off = sides.flatMap((side) => {
    const middle = median(side);
    return side.map((v) => Math.abs(v - middle));
  });
  return madToSd * median(off);
}

const dot3 = (x: Float64Array, row: number, beta: Float64Array): number =>
  (x[row * terms] as number) * (beta[0] as number) +
  (x[row * terms + 1] as number) * (beta[1] as number) +
  (x[row * terms + 2] as number) * (beta[2] as number);
