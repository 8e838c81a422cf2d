/**
 * The chance that the queen meets a rival from a cell: one that still stands, or the virgin of one that is out
 * already; from all looks, whole or in part, and from what was known when the bees lost their queen.
 *
 * Emergency cells are started in a number that is Poisson about an unknown mean with a gamma prior; so are swarm cells
 * that stood before, about a mean of their own, where any stood at all. Each look misses each cell that it covers, and
 * each shell, with an unknown chance, with a beta prior; cells that hide are missed more often, at every look. Thinned by
 * the fates of cells and by how they hide, the finds of the looks
 * and the dangerous remainder are then independent Poisson counts; means and miss rate are integrated on a grid. Method:
 * Bayesian removal sampling; its classical two-pass case is Seber and Le Cren 1967 (`two-pass-removal.ts`).
 *
 * To be read after `cell-waves.ts` (the log as a record), `cell-fates.ts`, `thinning.ts` and `cell-likelihood.ts`.
 */
import { missedCellShare } from '../../biology/figures.ts';
import {
  likelihoods,
  logPrior,
  missGrid,
  normalised,
  posterior,
  sum,
  type CellRecord,
  type Known,
  type Likely,
} from './cell-likelihood.ts';
import type { MissRate } from '../log/setup.ts';

export interface StandingCells {
  /** Chance that at least one dangerous cell was missed by all looks, 0..1. */
  readonly chance: number;
  /** Chance that the virgin of one is out at the instant asked for; of the whole where none was. */
  readonly chanceOut: number;
  /** Expected number of such cells. */
  readonly expected: number;
  /** Share of standing cells that a look of this keeper misses: posterior mean. */
  readonly missShare: number;
}

/** One in eleven cells missed on average, with a spread that lets the counts speak. */
export const widePrior: MissRate = { alpha: 1, beta: 1 / missedCellShare.value - 1 };

/** Method: a uniform’s variance is its width squared by this. */
const uniformVariance = 12;
/** At `nowMs`, or without an instant as if every virgin were out. Without looks: that some cell ends in a virgin. */
export function standingCells(record: CellRecord, nowMs?: number): StandingCells {
  const points = posterior(record, nowMs);
  const mean = (of: (point: Likely) => number): number =>
    sum(points.map((point) => point.weight * of(point)));
  return {
    chance: mean(({ some }) => some),
    chanceOut: mean(({ someOut }) => someOut),
    expected: mean(({ expected }) => expected),
    missShare: mean(({ miss }) => miss),
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
  const looks = [...record.looks, { atMs, cells: 0, emerged: 0, tornDown: 0 }];
  return {
    atMs,
    chanceIfNothingFound: standingCells({ ...record, looks }).chance,
    chanceOfFinding:
      1 - sum(posterior(record, atMs, true).map(({ weight, nothingNext }) => weight * nothingNext)),
  };
}

/** What one introduction's looks say about the miss rate: a log likelihood for each point of a fixed grid. */
export type MissEvidence = readonly number[];

export const missEvidence = (record: Known): MissEvidence => likelihoods(record).map(({ log }) => log);

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
    missGrid.map(
      ({ miss, width }, i) => (weights[i] ?? 0) * ((miss - mean) ** 2 + width ** 2 / uniformVariance),
    ),
  );
  const size = Math.min(mostCells, (mean * (1 - mean)) / variance - 1);
  return { alpha: mean * size, beta: (1 - mean) * size };
}
