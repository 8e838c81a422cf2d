/**
 * How sure are the cuts? The chance that a dangerous cell still stands (or that the virgin from one is
 * already loose), from what all complete looks found.
 *
 * Cells are started in a number that is Poisson about an unknown mean with a gamma prior; each look misses
 * each standing cell with the same unknown chance, with a beta prior. Thinned by the fates of cells, the
 * finds of the looks and the dangerous remainder are then independent Poisson counts, so the mean is
 * integrated in closed form and the miss rate on a grid. Method: Bayesian removal sampling; its classical
 * two-pass case is Seber and Le Cren 1967 (`two-pass-removal.ts`).
 */
import { developmentMs } from '../biology/duration.ts';
import { cellsPerColony, lastCellsDays, missedCellShare } from '../biology/figures.ts';
import { cellFates, type Fate, type Wave } from './cell-fates.ts';
import type { MissRate } from './setup.ts';

/** What one complete look found, living cells only. */
export interface LookFound {
  readonly atMs: number;
  readonly cells: number;
}

export interface StandingCells {
  /** Chance that at least one dangerous cell was missed by all looks, 0..1. */
  readonly chance: number;
  /** Expected number of such cells. */
  readonly expected: number;
  /** Share of standing cells that a look of this keeper misses: posterior mean. */
  readonly missShare: number;
  readonly restsOn: readonly string[];
}

/** One in eleven cells missed on average, with a spread that lets the counts speak. */
export const widePrior: MissRate = { alpha: 1, beta: 1 / missedCellShare.value - 1 };

/** Gamma prior on the mean number of cells: Fell and Morse's mean, with a spread that covers 11-49. */
const shape = 3;
const ratePerCell = shape / cellsPerColony.value;

const gridSize = 60;

interface AtMissShare {
  readonly miss: number;
  readonly logWeight: number;
  /** Mean number of dangerous cells for one started, and the gamma rate after the looks. */
  readonly dangerous: number;
  readonly rate: number;
}

/** Chance that a cell is found at each look, and that it is dangerous and missed at all. */
function thinned(
  fates: readonly Fate[],
  looks: number,
  miss: number,
): { found: number[]; dangerous: number } {
  const found = new Array<number>(looks).fill(0);
  let dangerous = 0;
  for (const fate of fates) {
    let missedSoFar = fate.weight;
    for (let look = fate.first; look <= fate.last; look++) {
      found[look] = (found[look] ?? 0) + missedSoFar * (1 - miss);
      missedSoFar *= miss;
    }
    if (fate.dangerous) dangerous += missedSoFar;
  }
  return { found, dangerous };
}

function atMissShare(
  fates: readonly Fate[],
  looks: readonly LookFound[],
  prior: MissRate,
  miss: number,
): AtMissShare {
  const { found, dangerous } = thinned(fates, looks.length, miss);
  const total = looks.reduce((sum, look) => sum + look.cells, 0);
  const rate = ratePerCell + found.reduce((sum, p) => sum + p, 0);
  const logFound = looks.reduce(
    (sum, look, i) => sum + (look.cells === 0 ? 0 : look.cells * Math.log(Math.max(found[i] ?? 0, 1e-12))),
    0,
  );
  const logPrior = (prior.alpha - 1) * Math.log(miss) + (prior.beta - 1) * Math.log(1 - miss);
  return { miss, logWeight: logPrior + logFound - (shape + total) * Math.log(rate), dangerous, rate };
}

/** Midpoints on the square root scale: the weight lies near zero. */
const missGrid: readonly { readonly miss: number; readonly width: number }[] = Array.from(
  { length: gridSize },
  (_, i) => {
    const from = (i / gridSize) ** 2;
    const to = ((i + 1) / gridSize) ** 2;
    return { miss: (from + to) / 2, width: to - from };
  },
);

export interface MissPosterior {
  readonly points: readonly { readonly miss: number; readonly weight: number; readonly at: AtMissShare }[];
}

function posterior(fates: readonly Fate[], looks: readonly LookFound[], prior: MissRate): MissPosterior {
  const raw = missGrid.map(({ miss, width }) => ({ width, at: atMissShare(fates, looks, prior, miss) }));
  const highest = Math.max(...raw.map(({ at }) => at.logWeight));
  const weights = raw.map(({ width, at }) => width * Math.exp(at.logWeight - highest));
  const sum = weights.reduce((total, weight) => total + weight, 0);
  return { points: raw.map(({ at }, i) => ({ miss: at.miss, weight: (weights[i] ?? 0) / sum, at })) };
}

/** Posterior of the keeper's miss share from the looks of one introduction, as a beta of the same mean and variance. */
export function learnMissRate(
  waves: readonly Wave[],
  looks: readonly LookFound[],
  prior: MissRate,
): MissRate {
  const { points } = posterior(
    cellFates(
      waves,
      looks.map((look) => look.atMs),
    ),
    looks,
    prior,
  );
  const mean = points.reduce((sum, { miss, weight }) => sum + weight * miss, 0);
  const variance = points.reduce((sum, { miss, weight }) => sum + weight * (miss - mean) ** 2, 0);
  const size = (mean * (1 - mean)) / variance - 1;
  return { alpha: mean * size, beta: (1 - mean) * size };
}

/** Looks in ascending order; empty looks give the prior chance that some cell ends in a virgin. */
export function standingCells(
  waves: readonly Wave[],
  looks: readonly LookFound[],
  prior: MissRate = widePrior,
): StandingCells {
  const total = looks.reduce((sum, look) => sum + look.cells, 0);
  const fates = cellFates(
    waves,
    looks.map((look) => look.atMs),
  );
  const { points } = posterior(fates, looks, prior);
  const counts = shape + total;
  let chance = 0;
  let expected = 0;
  let missShare = 0;
  for (const { weight, at } of points) {
    chance += weight * (1 - (at.rate / (at.rate + at.dangerous)) ** counts);
    expected += (weight * counts * at.dangerous) / at.rate;
    missShare += weight * at.miss;
  }
  const found = looks.map((look) => String(look.cells)).join(', then ');
  return {
    chance,
    expected,
    missShare,
    restsOn: looks.length === 0 ? ['no complete look yet'] : [`complete looks found ${found}`],
  };
}

export interface LookAhead {
  readonly atMs: number;
  readonly chanceIfNothingFound: number;
  /** Chance that this look finds a living cell. */
  readonly chanceOfFinding: number;
}

/** What one more complete look at `atMs` would bring. */
export function oneMoreLookAt(
  atMs: number,
  waves: readonly Wave[],
  looks: readonly LookFound[],
  prior: MissRate = widePrior,
): LookAhead {
  const next = [...looks, { atMs, cells: 0 }];
  const times = next.map((look) => look.atMs);
  const fates = cellFates(waves, times);
  const counts = shape + looks.reduce((sum, look) => sum + look.cells, 0);
  let nothing = 0;
  for (const { weight, miss } of posterior(cellFates(waves, times.slice(0, -1)), looks, prior).points) {
    const { found } = thinned(fates, next.length, miss);
    const before = ratePerCell + found.slice(0, -1).reduce((sum, p) => sum + p, 0);
    const here = found[next.length - 1] ?? 0;
    nothing += weight * (before / (before + here)) ** counts;
  }
  return {
    atMs,
    chanceIfNothingFound: standingCells(waves, next, prior).chance,
    chanceOfFinding: 1 - nothing,
  };
}

/** Cells of an unknown start: five equal waves over the span in which they can have been started. */
export function wavesBetween(earliestMs: number | null, latestMs: number): readonly Wave[] {
  const from = earliestMs ?? latestMs - developmentMs(lastCellsDays.value);
  if (latestMs <= from) return [{ fromMs: from, weight: 1 }];
  return Array.from({ length: 5 }, (_, i) => ({ fromMs: from + ((latestMs - from) * i) / 4, weight: 0.2 }));
}
