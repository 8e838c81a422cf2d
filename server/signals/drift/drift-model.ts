/**
 * The joint fit behind the forager drift: a linear Gaussian model, averaged over what is not linear.
 *
 *   weight = level − consumption·hours − M·S(t) + drift·(lagged outside) + own account + β·(settled hives) + noise
 *
 * M is the mass of all who will leave, S the share that has left. Nobody knows their law, so S is a random curve about
 * G(f) = 1 − (1 + f/(a τ))^−a, f the flight hours since the move: a Brownian bridge in G, covariance
 * (min(G, G′) − G G′)/(κ + 1), which ends where G ends. That is what a share drawn from a Dirichlet process of mean G and
 * weight κ varies by (Ferguson 1973). It is written in its first sine modes (Karhunen and Loève), as further columns of the
 * fit. So the nights decide M, and a wrong law costs width instead of truth.
 *
 * Averaged by evidence: τ, the lag of the load cell, the law of warmth by which bees fly, and how restless this scale is
 * (its zero, the sun on it, what the nuc eats and gathers: a random walk, and a blur of the rows by day). Rows far outside
 * weigh less. All else has wide normal priors. After Rasmussen and Williams 2006, §2.7 (explicit basis functions).
 */
import { settledAloneG, type Restless } from '../../biology/drift-figures.ts';
import { restlessAtLeastG } from '../../biology/scale-figures.ts';
import type { DriftBeliefs, DriftPrior, Belief } from './drift-beliefs.ts';
import { driftBeliefs } from './drift-beliefs.ts';
import { driftColumns, modes, type Candidate, type DriftColumns } from './drift-columns.ts';
import type { DriftData, DriftRow } from './drift-rows.ts';
import { noiseOf, type NoiseOf } from './drift-noise.ts';
import { posterior, productsOf, type NormalPrior, type Posterior } from '../statistics/gaussian-fit.ts';
import { cholesky } from '../statistics/linear.ts';

export interface DriftCandidate {
  /** Which of the laws of flight. */
  readonly law: number;
  readonly tauH: number;
  readonly lagMs: number;
  /** Posterior weight, all candidates summing to one. */
  readonly weight: number;
  /** Of the mass of all who will leave, g, and of the modes of the curve, g: means and their covariance, row-major. */
  readonly mean: Float64Array;
  readonly covariance: Float64Array;
  /** The scale's drift, g/K. */
  readonly driftGPerK: number;
  readonly driftVar: number;
}

export interface DriftFit {
  readonly candidates: readonly DriftCandidate[];
  /** Standard deviations by which the best candidate fits worse than it should: large where the weight does what no nuc does. */
  readonly misfitSd: number;
  /** And by which it has to take what the nuc eats and brings in for more or less than any does. */
  readonly strainSd: number;
}

/** Method: a candidate so far behind the best, in the logarithm, is looked at no more. */
const ruledOut = 7;
const noFit: DriftFit = { candidates: [], misfitSd: 0, strainSd: 0 };
/** Method: lighter candidates move nothing that is told. */
const leastWeight = 1e-3;
/** Method: rows that bear a fit. */
const leastRows = 4;
/** Method: the first look stays within so much of its prior. */
const leastOfPrior = 0.3;
/** Method: place of what is brought in, before the modes. */
const broughtAt = 5;

/** The candidate that fits best; null where there is none. */
export const bestOf = (candidates: readonly DriftCandidate[]): DriftCandidate | null =>
  candidates.reduce<DriftCandidate | null>((a, b) => (a && a.weight >= b.weight ? a : b), null);

/** Posterior over the grid; no candidates when the rows can't bear a fit. */
export function fitDrift(data: DriftData, prior: DriftPrior, beliefs: DriftBeliefs = driftBeliefs): DriftFit {
  const { rows } = data;
  if (rows.length < leastRows) return noFit;
  // Told from the first row on: a level of kilograms would cost the digits of what is looked for.
  const y = Float64Array.from(rows, (row) => row.weightG - (rows[0] as DriftRow).weightG);
  const columns = driftColumns(data);
  const noise = noiseOf(data, beliefs);
  const first = firstLook(data, y, columns, noise, prior, beliefs);
  if (!first) return noFit;
  const weights = priorOf(data, prior, beliefs, first.massG);
  const fits = fitsByRestless(data, y, columns, noise, first.extraVar, weights, beliefs);
  if (fits.length === 0) return noFit;
  const best = fits.reduce((a, b) => (a.log >= b.log ? a : b));
  const total = fits.reduce((sum, fit) => sum + Math.exp(fit.log - best.log), 0);
  return {
    misfitSd: (best.post.misfit - rows.length) / Math.sqrt(2 * rows.length),
    strainSd: strain(best.post, weights),
    candidates: fits
      .map((fit) => ({ fit, weight: Math.exp(fit.log - best.log) / total }))
      .filter(({ weight }) => weight > leastWeight)
      .map(({ fit, weight }) => told(fit, weight)),
  };
}

/** Fits of all candidates under all that the scale may be; the most restless first, since what it rules out, a calm one does too. */
function fitsByRestless(
  data: DriftData,
  y: Float64Array,
  columns: DriftColumns,
  noise: NoiseOf,
  extraVar: Float64Array,
  weights: NormalPrior,
  beliefs: DriftBeliefs,
): Fit[] {
  // Without a thermometer no scale is calm: its own drift with the weather of each day is not known.
  const possible = beliefs.restless.filter(({ dayG }) => data.thermometer || dayG >= restlessAtLeastG.value);
  let candidates = columns.candidates;
  return possible
    .map(besideSettled(data))
    .toSorted((a, b) => b.blurG - a.blurG)
    .flatMap((restless) => {
      const lower = noise(restless);
      addToDiagonal(lower, extraVar);
      if (!cholesky(lower, data.rows.length)) return [];
      const fits = fitsOf(columns, candidates, y, lower, weights, Math.log(restless.weight));
      const best = Math.max(...fits.map(({ log }) => log));
      candidates = fits.filter(({ log }) => log > best - ruledOut).map(({ candidate }) => candidate);
      return fits;
    });
}

/** Where the change of settled hives is taken off, what they do alone comes in. */
const besideSettled =
  ({ settledG }: DriftData) =>
  (restless: Restless): Restless =>
    settledG.length > 0 ? { ...restless, dayG: Math.hypot(restless.dayG, settledAloneG.value) } : restless;

interface Fit {
  readonly candidate: Candidate;
  readonly log: number;
  readonly post: Posterior;
}

function fitsOf(
  columns: DriftColumns,
  candidates: readonly Candidate[],
  y: Float64Array,
  lower: Float64Array,
  weights: NormalPrior,
  log: number,
): Fit[] {
  // The products of the columns are most of the work, and the candidates share all but a few of them.
  const products = productsOf(columns.values, y, lower);
  return candidates.flatMap((candidate) => {
    const post = posterior(products, candidate.chosen, weights);
    return post ? [{ candidate, log: log + candidate.logPrior + post.logEvidence, post }] : [];
  });
}

/** Rows that stand out, and about how much leaves: from a calm scale under the usual law alone. */
function firstLook(
  data: DriftData,
  y: Float64Array,
  columns: DriftColumns,
  noise: NoiseOf,
  prior: DriftPrior,
  beliefs: DriftBeliefs,
): { extraVar: Float64Array; massG: number } | null {
  const { rows } = data;
  const extraVar = new Float64Array(rows.length);
  const [usual] = beliefs.restless;
  const asUsual = noise(usual);
  const few = columns.candidates.filter(({ law, lag }) => law === 0 && lag === 1 % columns.lags);
  let massG = prior.massG;
  for (let round = 0; round < 2; round++) {
    const lower = asUsual.slice();
    addToDiagonal(lower, extraVar);
    if (!cholesky(lower, rows.length)) return null;
    const fits = fitsOf(columns, few, y, lower, priorOf(data, prior, beliefs, massG), 0);
    if (fits.length === 0) return null;
    const best = fits.reduce((a, b) => (a.log >= b.log ? a : b));
    massG = Math.min(2 * prior.massG, Math.max(leastOfPrior * prior.massG, best.post.mean[2] as number));
    if (!downweight(rows, residuals(y, best, columns), extraVar)) break;
  }
  return { extraVar, massG };
}

/** Of what is eaten and what is brought in, in their prior standard deviations. */
function strain({ mean }: Posterior, prior: NormalPrior): number {
  const off = (k: number): number =>
    ((mean[k] as number) - (prior.mean[k] as number)) / (prior.sd[k] as number);
  return Math.hypot(off(1), off(broughtAt + modes));
}

function told({ candidate, post }: Fit, weight: number): DriftCandidate {
  const p = candidate.chosen.length;
  const n = 1 + modes;
  const all = post.covariance();
  const covariance = new Float64Array(n * n);
  for (let k = 0; k < n; k++)
    for (let l = 0; l < n; l++) covariance[k * n + l] = all[(k + 2) * p + l + 2] as number;
  const drift = 2 + n;
  return {
    law: candidate.law,
    tauH: candidate.tauH,
    lagMs: candidate.lagMs,
    weight,
    mean: post.mean.slice(2, 2 + n),
    covariance,
    driftGPerK: post.mean[drift] as number,
    driftVar: all[drift * p + drift] as number,
  };
}

/** Mean and spread of each column's weight, in the order in which a candidate names them. */
function priorOf(data: DriftData, prior: DriftPrior, beliefs: DriftBeliefs, massG: number): NormalPrior {
  const { mean, sd } = beliefs.eatenGPerHPer1000;
  const eaten = { mean: (-mean * prior.bees) / 1000, sd: (sd * prior.bees) / 1000 };
  const curveSd = massG / Math.sqrt(prior.curveWeight + 1);
  const order: readonly Belief[] = [
    { mean: 0, sd: 1000 },
    eaten,
    { mean: prior.massG, sd: prior.massSd },
    ...Array.from({ length: modes }, (_, k) => ({
      mean: 0,
      sd: (curveSd * Math.SQRT2) / ((k + 1) * Math.PI),
    })),
    beliefs.scaleGPerK,
    beliefs.warmthGPerKh,
    beliefs.income,
    beliefs.roofG,
    beliefs.afieldG,
    ...(data.settledG.length > 0 ? [beliefs.settled, beliefs.settledInDay] : []),
  ];
  return {
    mean: Float64Array.from(order, ({ mean }) => mean),
    sd: Float64Array.from(order, ({ sd }) => sd),
  };
}

function addToDiagonal(matrix: Float64Array, extra: Float64Array): void {
  const n = extra.length;
  for (let i = 0; i < n; i++) matrix[i * n + i] = (matrix[i * n + i] as number) + (extra[i] as number);
}

/** What the weights of a fit leave of `y`. */
const residuals = (y: Float64Array, { candidate, post }: Fit, { values }: DriftColumns): Float64Array =>
  y.map((v, i) =>
    candidate.chosen.reduce(
      (left, which, k) => left - ((values[which] as Float64Array)[i] as number) * (post.mean[k] as number),
      v,
    ),
  );

/** Method: variance allowed to a row without flight, g². */
const quietVar = 9;
/** Method: variance allowed to a row with flight, g². */
const flightVar = 36;
/** Method: a row stands out beyond so many standard deviations. */
const outlierSd = 3.5;
/** Method: its variance must grow by so much to change the fit. */
const grows = 1.2;

/** Gives variance to rows that stand out from both sides of them; false when none does. At the ends a steep loss looks the same. */
function downweight(rows: readonly DriftRow[], left: Float64Array, extraVar: Float64Array): boolean {
  let changed = false;
  for (let i = 1; i < rows.length - 1; i++) {
    const here = left[i] as number;
    const before = middleOf(left[i - 2], left[i - 1]) - here;
    const after = middleOf(left[i + 2], left[i + 1]) - here;
    const off = before * after < 0 ? 0 : Math.min(Math.abs(before), Math.abs(after));
    const row = rows[i] as DriftRow;
    const sd = Math.sqrt(row.noiseVar + (row.quiet ? quietVar : flightVar));
    if (off < outlierSd * sd) continue;
    const wanted = off * off;
    if (wanted > grows * (extraVar[i] as number)) changed = true;
    extraVar[i] = Math.max(extraVar[i] as number, wanted);
  }
  return changed;
}

const middleOf = (further: number | undefined, nearer: number | undefined): number =>
  ((further ?? nearer ?? 0) + (nearer ?? 0)) / 2;
