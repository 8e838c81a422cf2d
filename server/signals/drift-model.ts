/**
 * The joint fit behind the forager drift, a linear Gaussian model averaged over what is not linear.
 *
 * weight = level − consumption·hours − M·G(flight hours / τ) + drift·(lagged outside) + slow wandering + noise,
 * where G = 1 − (1 + f/(a τ))^−a is a saturating curve for bees of unequal readiness. Level, consumption, M and
 * drift have weak Gaussian priors; wandering is a random walk; τ and the lag are averaged over a grid by their
 * evidence. Rows far outside are given less weight. After Rasmussen and Williams 2006, §2.7 (explicit basis functions).
 */
import { recruitmentPerDay, socialInhibition } from '../biology/population-figures.ts';
import {
  consumptionGPerH,
  foragerBodyG,
  foragerShare,
  homingFlightHours,
  loadCellDriftGPerK,
} from '../biology/weight-figures.ts';
import type { DriftData, DriftRow } from './drift-rows.ts';
import {
  posterior,
  residuals,
  whitenedTarget,
  type NormalPrior,
  type Posterior,
} from './statistics/gaussian-fit.ts';
import { cholesky, forward } from './statistics/linear.ts';

export interface DriftCandidate {
  readonly tauH: number;
  readonly lagMs: number;
  /** Posterior weight, all candidates summing to one. */
  readonly weight: number;
  /** M: mass of all who will leave, g, and the scale's drift, g/K. */
  readonly massG: number;
  readonly massVar: number;
  readonly driftGPerK: number;
  readonly driftVar: number;
  readonly consumptionGPerH: number;
}

export interface DriftPrior {
  /** Bees in the box at the move; sets how much can leave. */
  readonly bees: number;
  readonly beesSd: number;
}

const driftTausH: readonly number[] = [0.8, 1.2, 1.8, 2.5, 3.5, 5, 7];
export const driftLagsMs: readonly number[] = [20, 50, 90, 150].map((minutes) => minutes * 60_000);
/** How unequal bees are in their readiness: shape of the gamma mixture. Large is equal. */
const unequal = 12;

/** Share gone after `flownH` flight hours. */
export const shareGone = (flownH: number, tauH: number): number =>
  1 - (1 + Math.max(0, flownH) / (unequal * tauH)) ** -unequal;

/** A figure before any reading, with its standard deviation between nucs. */
interface Belief {
  readonly mean: number;
  readonly sd: number;
}

const spread = (figure: { low?: number; high?: number }): number =>
  ((figure.high ?? 0) - (figure.low ?? 0)) / 3.3;

/** What is believed of everything but the foragers that moves a scale, before it is looked at. */
export interface DriftBeliefs {
  readonly consumptionGPerH: Belief;
  /** More or less eaten for each kelvin of outside temperature. */
  readonly warmthGPerKh: Belief;
  readonly scaleGPerK: Belief;
  /** Nectar less losses afield, g an hour of full flight, once new foragers fly; spread between nucs and between days. */
  readonly income: Belief & { readonly daySd: number };
  /** Water that a wet roof holds: half a millimetre on a sixth of a square metre, and how far the drying may be off. */
  readonly roofG: Belief & { readonly dryingShare: number };
  /** Bees of the nuc's own that are out in full flight, once new foragers have grown up, g. */
  readonly afieldG: Belief;
  /** Wandering in a day of the scale's zero point and of uneven consumption. */
  readonly wanderG: number;
  /** Blur of rows by day: the sun on scale and thermometer, g at a high sun; it goes together for hours. */
  readonly sunBlurG: number;
}

export const driftBeliefs: DriftBeliefs = {
  consumptionGPerH: { mean: -consumptionGPerH.value, sd: spread(consumptionGPerH) },
  warmthGPerKh: { mean: 0.1, sd: 0.15 },
  scaleGPerK: { mean: loadCellDriftGPerK.value, sd: spread(loadCellDriftGPerK) },
  income: { mean: 1, sd: 2.5, daySd: 1.2 },
  roofG: { mean: 80, sd: 40, dryingShare: 0.15 },
  afieldG: { mean: 20, sd: 12 },
  wanderG: 7,
  sunBlurG: 13,
};
const sunBlurHours = 6;
/** A split is moved by day: the flight of that day lies some hours after it, of the next a day later. */
const flightOfDay = 0.3;
/**
 * Bees of the nuc's own that have taken up foraging by the flight of a day, as a share of those who will in the end:
 * Khoury's colony without deaths, df/dt = (1 − f)(α − σ f) from f = 0, solved.
 */
function newForagers(day: number): number {
  const inTheEnd = recruitmentPerDay.value / socialInhibition.value;
  const left = Math.exp(-(socialInhibition.value - recruitmentPerDay.value) * (day + flightOfDay));
  return (1 - left) / (1 - inTheEnd * left);
}
/** Posterior over the grid; empty when the rows can't bear a fit. */
export function fitDrift(
  data: DriftData,
  prior: DriftPrior,
  beliefs: DriftBeliefs = driftBeliefs,
): DriftCandidate[] {
  const { rows } = data;
  if (rows.length < 4) return [];
  const lags = data.outsideC.size > 0 ? driftLagsMs : [0];
  const y = Float64Array.from(rows, (row) => row.weightG);
  const weights = priorOf(prior, beliefs, y[0] as number);
  const columns = regressors(data, lags);
  const extraVar = new Float64Array(rows.length);
  const noise = noiseCovariance(rows, beliefs);
  let fits: { tauH: number; lagMs: number; log: number; post: Posterior }[] = [];
  for (let round = 0; round < 3; round++) {
    const lower = noise.slice();
    extraVar.forEach((extra, i) => {
      lower[i * rows.length + i] = (lower[i * rows.length + i] as number) + extra;
    });
    if (!cholesky(lower, rows.length)) return [];
    // A column's whitening is most of the work, and the candidates share all but two of them.
    const white = whitened(columns, lower, rows.length);
    const target = whitenedTarget(y, lower, rows.length);
    fits = [];
    for (const lagMs of lags) {
      for (const tauH of driftTausH) {
        const post = posterior(basisOf(white, tauH, lagMs), target, weights);
        if (!post) continue;
        const z = Math.log(tauH / homingFlightHours.value) / 0.7;
        fits.push({ tauH, lagMs, log: post.logEvidence - 0.5 * z * z, post });
      }
    }
    const best = fits.reduce<(typeof fits)[number] | null>((a, b) => (a && a.log >= b.log ? a : b), null);
    if (!best) break;
    const left = residuals(y, basisOf(columns, best.tauH, best.lagMs), best.post.mean);
    if (!downweight(rows, left, extraVar)) break;
  }
  const top = Math.max(...fits.map((fit) => fit.log));
  const total = fits.reduce((sum, fit) => sum + Math.exp(fit.log - top), 0);
  return fits.map(({ tauH, lagMs, log, post }) => ({
    tauH,
    lagMs,
    weight: Math.exp(log - top) / total,
    massG: post.mean[2] as number,
    massVar: post.variance[2] as number,
    driftGPerK: post.mean[3] as number,
    driftVar: post.variance[3] as number,
    consumptionGPerH: -(post.mean[1] as number),
  }));
}

/** What moves the weight, a value a row: share gone by time constant, lagged outside by lag, and what all candidates share. */
interface Columns {
  readonly level: Float64Array;
  readonly hours: Float64Array;
  readonly goneByTauH: ReadonlyMap<number, Float64Array>;
  readonly kelvinByLagMs: ReadonlyMap<number, Float64Array>;
  readonly warmth: Float64Array;
  readonly brought: Float64Array;
  readonly wet: Float64Array;
  readonly afield: Float64Array;
}

function regressors(data: DriftData, lags: readonly number[]): Columns {
  const { rows, outsideC, warmthKh } = data;
  const column = (of: (row: DriftRow) => number): Float64Array => Float64Array.from(rows, of);
  const gone = (tauH: number): Float64Array => column((row) => -shareGone(row.flownH, tauH));
  const afield = (row: DriftRow): number =>
    row.quiet ? 0 : -row.activity * newForagers(row.flownByDay.findLastIndex((h) => h > 0));
  return {
    level: column(() => 1),
    hours: column((row) => row.hours),
    goneByTauH: new Map(driftTausH.map((tauH) => [tauH, gone(tauH)])),
    kelvinByLagMs: new Map(lags.map((lagMs) => [lagMs, kelvin(outsideC.get(lagMs), rows.length)])),
    warmth: warmthKh,
    brought: column((row) => row.flownByDay.reduce((sum, h, day) => sum + newForagers(day) * h, 0)),
    wet: column((row) => row.wet),
    afield: column(afield),
  };
}

/** Outside temperature over that of the first row that knows it; 0 where it is missing. */
function kelvin(outsideC: Float64Array | undefined, rows: number): Float64Array {
  if (!outsideC) return new Float64Array(rows);
  const first = outsideC.find((v) => Number.isFinite(v)) ?? 0;
  return outsideC.map((v) => (Number.isNaN(v) ? 0 : v - first));
}

/** The columns of one candidate, in the order of the priors. */
const basisOf = (columns: Columns, tauH: number, lagMs: number): Float64Array[] => [
  columns.level,
  columns.hours,
  columns.goneByTauH.get(tauH) as Float64Array,
  columns.kelvinByLagMs.get(lagMs) as Float64Array,
  columns.warmth,
  columns.brought,
  columns.wet,
  columns.afield,
];

function whitened(columns: Columns, lower: Float64Array, n: number): Columns {
  const white = (column: Float64Array): Float64Array => {
    const copy = column.slice();
    forward(lower, n, copy);
    return copy;
  };
  const each = (map: ReadonlyMap<number, Float64Array>): Map<number, Float64Array> =>
    new Map([...map].map(([key, column]) => [key, white(column)]));
  const { level, hours, goneByTauH, kelvinByLagMs, warmth, brought, wet, afield } = columns;
  return {
    level: white(level),
    hours: white(hours),
    goneByTauH: each(goneByTauH),
    kelvinByLagMs: each(kelvinByLagMs),
    warmth: white(warmth),
    brought: white(brought),
    wet: white(wet),
    afield: white(afield),
  };
}

/** Mean and spread of each column's weight, in the order of `basisOf`. */
function priorOf(prior: DriftPrior, beliefs: DriftBeliefs, levelG: number): NormalPrior {
  const share = foragerShare;
  const massG = prior.bees * share.value * foragerBodyG.value;
  const relative = Math.hypot(spread(share) / share.value, prior.beesSd / prior.bees, 0.12);
  const order: readonly Belief[] = [
    { mean: levelG, sd: 1000 },
    beliefs.consumptionGPerH,
    { mean: massG, sd: massG * relative },
    beliefs.scaleGPerK,
    beliefs.warmthGPerKh,
    beliefs.income,
    beliefs.roofG,
    beliefs.afieldG,
  ];
  return {
    mean: Float64Array.from(order, ({ mean }) => mean),
    sd: Float64Array.from(order, ({ sd }) => sd),
  };
}

/** Covariance of the rows apart from the basis, row-major; every row tells the hours of the same days. */
function noiseCovariance(
  rows: readonly DriftRow[],
  { wanderG, sunBlurG, income, roofG }: DriftBeliefs,
): Float64Array {
  const n = rows.length;
  const c = new Float64Array(n * n);
  const sunG = rows.map((row) => sunBlurG * blur(row));
  const roofOffG = rows.map((row) => roofG.dryingShare * roofG.mean * row.wet);
  const incomeG = (rows.at(-1)?.flownByDay ?? []).map((_, day) => income.daySd * newForagers(day));
  for (let i = 0; i < n; i++) {
    const a = rows[i] as DriftRow;
    for (let j = 0; j <= i; j++) {
      const b = rows[j] as DriftRow;
      const apartH = Math.abs(a.hours - b.hours);
      let v = (wanderG ** 2 * Math.min(a.hours, b.hours)) / 24;
      const sun = (sunG[i] as number) * (sunG[j] as number);
      if (sun > 0) v += sun * Math.exp(-apartH / sunBlurHours);
      for (let d = 0; d < incomeG.length; d++) {
        v += (incomeG[d] as number) ** 2 * (a.flownByDay[d] as number) * (b.flownByDay[d] as number);
      }
      const roof = (roofOffG[i] as number) * (roofOffG[j] as number);
      if (roof > 0) v += roof * Math.exp(-apartH / 12);
      if (i === j) v += a.noiseVar;
      c[i * n + j] = v;
      c[j * n + i] = v;
    }
  }
  return c;
}

const blur = (row: DriftRow): number =>
  row.quiet ? 0 : Math.max(0.3, Math.sin((Math.max(0, row.sunDeg) * Math.PI) / 180));

/** Gives variance to rows that stand out from their neighbours' residuals; false when none does. */
function downweight(rows: readonly DriftRow[], left: Float64Array, extraVar: Float64Array): boolean {
  let changed = false;
  for (let i = 0; i < rows.length; i++) {
    const near = [i - 2, i - 1, i + 1, i + 2].flatMap((j) => left[j] ?? []).sort((a, b) => a - b);
    const middle =
      near.length > 0
        ? ((near[(near.length - 1) >> 1] as number) + (near[near.length >> 1] as number)) / 2
        : 0;
    const row = rows[i] as DriftRow;
    const off = Math.abs((left[i] as number) - middle);
    const sd = Math.sqrt(row.noiseVar + (row.quiet ? 9 : 36));
    if (off < 3.5 * sd) continue;
    const wanted = off * off;
    if (wanted > 1.2 * (extraVar[i] as number)) changed = true;
    extraVar[i] = Math.max(extraVar[i] as number, wanted);
  }
  return changed;
}
