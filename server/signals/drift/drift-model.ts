/**
 * The joint fit behind the forager drift, a linear Gaussian model averaged over what is not linear.
 *
 * weight = level − consumption·hours − M·G(flight hours / τ) + drift·(lagged outside) + slow wandering + noise,
 * where G = 1 − (1 + f/(a τ))^−a is a saturating curve for bees of unequal readiness. Level, consumption, M and
 * drift have weak Gaussian priors; wandering is a random walk; τ and the lag are averaged over a grid by their
 * evidence. Rows far outside are given less weight. After Rasmussen and Williams 2006, §2.7 (explicit basis functions).
 */
import { highEnd, lowEnd, type Figure } from '../../biology/figure.ts';
import { roofWaterG } from '../../biology/assumed-figures.ts';
import { recruitmentPerDay, socialInhibition } from '../../biology/population-figures.ts';
import {
  consumptionGPerH,
  foragerBodyG,
  foragerShare,
  homingFlightHours,
  loadCellDriftGPerK,
} from '../../biology/weight-figures.ts';
import type { DriftData, DriftRow } from './drift-rows.ts';
import { posterior, productsOf, type NormalPrior, type Posterior } from '../statistics/gaussian-fit.ts';
import { cholesky, dotOf } from '../statistics/linear.ts';
import { median } from '../statistics/robust.ts';

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

const spread = (figure: Figure): number => (highEnd(figure) - lowEnd(figure)) / 3.3;

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
  roofG: { mean: roofWaterG.value, sd: 40, dryingShare: 0.15 },
  afieldG: { mean: 20, sd: 12 },
  wanderG: 7,
  sunBlurG: 13,
};
const sunBlurHours = 6;
const roofOffHours = 12;
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
  // Told from the first row on: a level of kilograms would cost the digits of what is looked for.
  const y = Float64Array.from(rows, (row) => row.weightG - (rows[0] as DriftRow).weightG);
  const weights = priorOf(prior, beliefs);
  const columns = columnsOf(data, lags);
  const extraVar = new Float64Array(rows.length);
  const noise = noiseCovariance(rows, beliefs);
  let fits: (Candidate & { log: number; post: Posterior })[] = [];
  for (let round = 0; round < 3; round++) {
    const lower = noise.slice();
    for (let i = 0; i < rows.length; i++) {
      const at = i * rows.length + i;
      lower[at] = (lower[at] as number) + (extraVar[i] as number);
    }
    if (!cholesky(lower, rows.length)) return [];
    // The products of the columns are most of the work, and the candidates share all but two of them.
    const products = productsOf(columns.values, y, lower);
    fits = [];
    for (const candidate of columns.candidates) {
      const post = posterior(products, candidate.chosen, weights);
      if (!post) continue;
      const z = Math.log(candidate.tauH / homingFlightHours.value) / 0.7;
      fits.push({ ...candidate, log: post.logEvidence - 0.5 * z * z, post });
    }
    const best = fits.reduce<(typeof fits)[number] | null>((a, b) => (a && a.log >= b.log ? a : b), null);
    if (!best) break;
    const left = residuals(y, best.chosen, columns.values, best.post.mean);
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

/** One time constant with one lag, and the columns that it is made of, in the order of the priors. */
interface Candidate {
  readonly tauH: number;
  readonly lagMs: number;
  readonly chosen: readonly number[];
}

/** What moves the weight, a value a row: what all candidates share, then share gone by time constant and outside by lag. */
function columnsOf(
  data: DriftData,
  lags: readonly number[],
): { values: Float64Array[]; candidates: Candidate[] } {
  const { rows, outsideC, warmthKh } = data;
  const column = (of: (row: DriftRow) => number): Float64Array => Float64Array.from(rows, of);
  const afield = (row: DriftRow): number =>
    row.quiet ? 0 : -row.activity * newForagers(row.flownByDay.findLastIndex((h) => h > 0));
  const foragers = (rows.at(-1)?.flownByDay ?? []).map((_, day) => newForagers(day));
  const shared = [
    column(() => 1),
    column((row) => row.hours),
    warmthKh,
    column((row) => row.flownByDay.reduce((sum, h, day) => sum + (foragers[day] as number) * h, 0)),
    column((row) => row.wet),
    column(afield),
  ];
  const [level, hours, warmth, brought, wet, out] = [0, 1, 2, 3, 4, 5] as const;
  const gone = driftTausH.map((tauH) => column((row) => -shareGone(row.flownH, tauH)));
  const warmer = lags.map((lagMs) => kelvin(outsideC.get(lagMs), rows.length));
  const candidates = lags.flatMap((lagMs, l) =>
    driftTausH.map((tauH, t) => {
      const goneAt = shared.length + t;
      const warmerAt = shared.length + gone.length + l;
      return { tauH, lagMs, chosen: [level, hours, goneAt, warmerAt, warmth, brought, wet, out] };
    }),
  );
  return { values: [...shared, ...gone, ...warmer], candidates };
}

/** What the weights of the columns `chosen` leave of `y`. */
const residuals = (
  y: Float64Array,
  chosen: readonly number[],
  values: readonly Float64Array[],
  weights: Float64Array,
): Float64Array =>
  y.map((v, i) =>
    chosen.reduce(
      (left, which, k) => left - ((values[which] as Float64Array)[i] as number) * (weights[k] as number),
      v,
    ),
  );

/** Outside temperature over that of the first row that knows it; 0 where it is missing. */
function kelvin(outsideC: Float64Array | undefined, rows: number): Float64Array {
  if (!outsideC) return new Float64Array(rows);
  const first = outsideC.find((v) => Number.isFinite(v)) ?? 0;
  return outsideC.map((v) => (Number.isNaN(v) ? 0 : v - first));
}

/** Mean and spread of each column's weight, in the order in which a candidate names them. */
function priorOf(prior: DriftPrior, beliefs: DriftBeliefs): NormalPrior {
  const share = foragerShare;
  const massG = prior.bees * share.value * foragerBodyG.value;
  const relative = Math.hypot(spread(share) / share.value, prior.beesSd / prior.bees, 0.12);
  const order: readonly Belief[] = [
    { mean: 0, sd: 1000 },
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

/** Covariance of the rows apart from the basis, row-major, its lower half; every row tells the hours of the same days. */
function noiseCovariance(
  rows: readonly DriftRow[],
  { wanderG, sunBlurG, income, roofG }: DriftBeliefs,
): Float64Array {
  const n = rows.length;
  const c = new Float64Array(n * n);
  const days = rows.at(-1)?.flownByDay.length ?? 0;
  const dayG = Array.from({ length: days }, (_, d) => income.daySd * newForagers(d));
  const hours = new Float64Array(n);
  const sunG = new Float64Array(n);
  const roofOffG = new Float64Array(n);
  /** How many days a row's flight reaches back to. */
  const flownDays = new Int32Array(n);
  /** What a day brings beside the usual, by row and day, g. */
  const broughtG = new Float64Array(n * days);
  for (let i = 0; i < n; i++) {
    const row = rows[i] as DriftRow;
    hours[i] = row.hours;
    sunG[i] = sunBlurG * blur(row);
    roofOffG[i] = roofG.dryingShare * roofG.mean * row.wet;
    for (let d = 0; d < days; d++) {
      const flown = row.flownByDay[d] as number;
      broughtG[i * days + d] = (dayG[d] as number) * flown;
      if (flown > 0) flownDays[i] = d + 1;
    }
  }
  const wanderPerH = wanderG ** 2 / 24;
  const sun = fading(hours, sunG, sunBlurHours);
  const roof = fading(hours, roofOffG, roofOffHours);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      // Rows stand in the order of time, and the earlier knows of no later day.
      const flown = flownDays[j] as number;
      c[i * n + j] =
        wanderPerH * (hours[j] as number) +
        dotOf(broughtG, i * days, broughtG, j * days, flown) +
        (sun.later[i] as number) * (sun.earlier[j] as number) +
        (roof.later[i] as number) * (roof.earlier[j] as number);
    }
    c[i * n + i] = (c[i * n + i] as number) + (rows[i] as DriftRow).noiseVar;
  }
  return c;
}

/**
 * Factors of a covariance a(i) a(j) exp(−(t(i) − t(j)) / τ) of rows i after j: one exponential a row instead of one a pair.
 * A window of ten days and a τ of hours stay within what a double holds.
 */
function fading(hours: Float64Array, amplitude: Float64Array, tauH: number) {
  const later = amplitude.map((a, i) => a * Math.exp(-(hours[i] as number) / tauH));
  const earlier = amplitude.map((a, i) => a * Math.exp((hours[i] as number) / tauH));
  return { later, earlier };
}

const blur = (row: DriftRow): number =>
  row.quiet ? 0 : Math.max(0.3, Math.sin((Math.max(0, row.sunDeg) * Math.PI) / 180));

/** Gives variance to rows that stand out from their neighbours' residuals; false when none does. */
function downweight(rows: readonly DriftRow[], left: Float64Array, extraVar: Float64Array): boolean {
  let changed = false;
  for (let i = 0; i < rows.length; i++) {
    const middle = middleOfNeighbours(left, i);
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

/** Median of the two neighbours on each side, as far as there are any. */
function middleOfNeighbours(left: Float64Array, i: number): number {
  const near = [left[i - 2], left[i - 1], left[i + 1], left[i + 2]].filter((v) => v !== undefined);
  return near.length === 0 ? 0 : median(near);
}
