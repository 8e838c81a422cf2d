/**
 * How sure are the cuts? The chance that a dangerous cell still stands (or that the virgin from one is
 * already loose), from what all complete looks found.
 *
 * Cells are started in a number that is Poisson about an unknown mean with a gamma prior; each look misses
 * each standing cell, and each shell, with the same unknown chance, with a beta prior. Thinned by the fates
 * of cells, the finds of the looks and the dangerous remainder are then independent Poisson counts, so the
 * mean is integrated in closed form and the miss rate on a grid. Method: Bayesian removal sampling; its
 * classical two-pass case is Seber and Le Cren 1967 (`tests/published/two-pass-removal.ts`).
 */
import { cellsPerColony, missedCellShare, virginNoticedShare } from '../biology/figures.ts';
import { cellFates, type Fate, type Wave } from './cell-fates.ts';
import type { MissRate } from './setup.ts';

/** What one complete look found. */
export interface LookFound {
  readonly atMs: number;
  /** Open and sealed cells. */
  readonly cells: number;
  /** Opened shells of cells that a virgin has left. */
  readonly emerged: number;
}

/** What is known about one nuc's cells. */
export interface CellRecord {
  readonly waves: readonly Wave[];
  /** Complete looks in ascending order. */
  readonly looks: readonly LookFound[];
  readonly missRate: MissRate;
  /** A test frame showed that no virgin was loose then. */
  readonly noVirginAtMs?: number;
}

export interface StandingCells {
  /** Chance that at least one dangerous cell was missed by all looks, 0..1. */
  readonly chance: number;
  /** Expected number of such cells. */
  readonly expected: number;
  /** Share of standing cells that a look of this keeper misses: posterior mean. */
  readonly missShare: number;
}

/** One in eleven cells missed on average, with a spread that lets the counts speak. */
export const widePrior: MissRate = { alpha: 1, beta: 1 / missedCellShare.value - 1 };

/** Gamma prior on the mean number of cells: Fell and Morse's mean, with a spread that covers 11-49. */
const shape = 3;
const ratePerCell = shape / cellsPerColony.value;

/** Midpoints on the square scale: the weight lies near zero. */
const gridSize = 30;
const missGrid: readonly { readonly miss: number; readonly width: number }[] = Array.from(
  { length: gridSize },
  (_, i) => {
    const from = (i / gridSize) ** 2;
    const to = ((i + 1) / gridSize) ** 2;
    return { miss: (from + to) / 2, width: to - from };
  },
);

/** Means, for one cell started on average, of what was seen at each look and of what is dangerous. */
interface Thinned {
  readonly cells: Float64Array;
  readonly shells: Float64Array;
  readonly dangerous: number;
  /** Virgins that would be loose, had a test frame or the looks since not shown otherwise. */
  readonly excluded: number;
}

function thinned(fates: readonly Fate[], looks: number, miss: number): Thinned {
  const cells = new Float64Array(looks);
  const shells = new Float64Array(looks);
  let dangerous = 0;
  let excluded = 0;
  for (const { first, end, shellEnd, ends, weight } of fates) {
    let missed = weight;
    for (let look = first; look < shellEnd; look++) {
      const seen = look < end ? cells : shells;
      seen[look] = (seen[look] ?? 0) + missed * (1 - miss);
      missed *= miss;
    }
    if (ends === 'torn-down') continue;
    const unseen = ends === 'excluded' ? 0 : (1 - virginNoticedShare.value) ** (looks - end);
    dangerous += missed * unseen;
    excluded += missed * (1 - unseen);
  }
  return { cells, shells, dangerous, excluded };
}

const sum = (values: ArrayLike<number>): number => {
  let total = 0;
  for (let i = 0; i < values.length; i++) total += values[i] ?? 0;
  return total;
};

/** One point of the grid after the looks: its weight, and the gamma posterior of the mean there. */
interface Point {
  readonly miss: number;
  readonly weight: number;
  readonly rate: number;
  readonly dangerous: number;
}

const found = (looks: readonly LookFound[]): number => sum(looks.map((look) => look.cells + look.emerged));

function logLikelihood(looks: readonly LookFound[], { cells, shells }: Thinned, rate: number): number {
  const tiny = 1e-12;
  const of = (count: number, mean: number | undefined): number =>
    count === 0 ? 0 : count * Math.log(Math.max(mean ?? 0, tiny));
  const counts = sum(looks.map((look, i) => of(look.cells, cells[i]) + of(look.emerged, shells[i])));
  return counts - (shape + found(looks)) * Math.log(rate);
}

/** One point of the grid, before any word on how likely its miss rate is. */
interface Likely {
  readonly miss: number;
  readonly width: number;
  readonly rate: number;
  readonly dangerous: number;
  /** Log likelihood of the finds, the mean number of cells integrated out; up to a constant. */
  readonly log: number;
}

function likelihoods({ looks, waves, noVirginAtMs }: Omit<CellRecord, 'missRate'>): readonly Likely[] {
  const fates = cellFates(
    waves,
    looks.map((look) => look.atMs),
    noVirginAtMs,
  );
  return missGrid.map(({ miss, width }) => {
    const means = thinned(fates, looks.length, miss);
    const rate = ratePerCell + sum(means.cells) + sum(means.shells) + means.excluded;
    return { miss, width, rate, dangerous: means.dangerous, log: logLikelihood(looks, means, rate) };
  });
}

const logPrior = ({ alpha, beta }: MissRate, miss: number): number =>
  (alpha - 1) * Math.log(miss) + (beta - 1) * Math.log(1 - miss);

/** Weights that add up to 1, from their logarithms and the widths of their points. */
function normalised(points: readonly { readonly width: number; readonly log: number }[]): readonly number[] {
  const highest = Math.max(...points.map(({ log }) => log));
  const weights = points.map(({ width, log }) => width * Math.exp(log - highest));
  const total = sum(weights);
  return weights.map((weight) => weight / total);
}

function posterior(record: CellRecord): readonly Point[] {
  const points = likelihoods(record).map((point) => ({
    ...point,
    log: point.log + logPrior(record.missRate, point.miss),
  }));
  const weights = normalised(points);
  return points.map(({ miss, rate, dangerous }, i) => ({ miss, rate, dangerous, weight: weights[i] ?? 0 }));
}

/** Chance that a dangerous cell was missed; without looks, that some cell ends in a virgin. */
export function standingCells(record: CellRecord): StandingCells {
  const counts = shape + found(record.looks);
  const points = posterior(record);
  return {
    chance: sum(
      points.map(({ weight, rate, dangerous }) => weight * (1 - (rate / (rate + dangerous)) ** counts)),
    ),
    expected: sum(points.map(({ weight, rate, dangerous }) => (weight * counts * dangerous) / rate)),
    missShare: sum(points.map(({ weight, miss }) => weight * miss)),
  };
}

export interface LookAhead {
  readonly atMs: number;
  readonly chanceIfNothingFound: number;
  /** Chance that this look finds a living cell. */
  readonly chanceOfFinding: number;
}

/** What one more complete look at `atMs`, after all others, would bring. */
export function oneMoreLookAt(atMs: number, record: CellRecord): LookAhead {
  const looks = [...record.looks, { atMs, cells: 0, emerged: 0 }];
  const fates = cellFates(
    record.waves,
    looks.map((look) => look.atMs),
    record.noVirginAtMs,
  );
  const counts = shape + found(record.looks);
  const nothing = posterior(record).map(({ miss, weight, rate }) => {
    const here = thinned(fates, looks.length, miss).cells[looks.length - 1] ?? 0;
    return weight * (rate / (rate + here)) ** counts;
  });
  return {
    atMs,
    chanceIfNothingFound: standingCells({ ...record, looks }).chance,
    chanceOfFinding: 1 - sum(nothing),
  };
}

/** What one introduction's looks say about the miss rate: a log likelihood for each point of a fixed grid. */
export type MissEvidence = readonly number[];

export const missEvidence = (record: Omit<CellRecord, 'missRate'>): MissEvidence =>
  likelihoods(record).map(({ log }) => log);

/**
 * The miss rate after looks in several introductions, by Bayes: prior times likelihoods, whatever their order; as a
 * beta of the same mean and variance that counts for no more than `mostCells` cells looked at.
 */
export function missRateFrom(
  prior: MissRate,
  evidence: readonly MissEvidence[],
  mostCells = Infinity,
): MissRate {
  const weights = normalised(
    missGrid.map(({ miss, width }, i) => ({
      width,
      log: logPrior(prior, miss) + sum(evidence.map((one) => one[i] ?? 0)),
    })),
  );
  const mean = sum(missGrid.map(({ miss }, i) => (weights[i] ?? 0) * miss));
  // Within a point of the grid the rate is spread evenly: a posterior narrower than one never counts as certain.
  const variance = sum(
    missGrid.map(({ miss, width }, i) => (weights[i] ?? 0) * ((miss - mean) ** 2 + width ** 2 / 12)),
  );
  const size = Math.min(mostCells, (mean * (1 - mean)) / variance - 1);
  return { alpha: mean * size, beta: (1 - mean) * size };
}
