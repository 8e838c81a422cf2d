/**
 * Heat margin: by how many kelvin the bees can hold their brood above the outside. While the nest stands at its
 * usual level a night only shows that the margin is at least what it took; a night on which the nest gave way
 * shows the margin itself. Kept as weights on a grid, so that both kinds of night can be put together.
 */
import {
  heatPriorLogSd,
  heatPriorUncountedLogSd,
  nightErrorK,
  oddNightShare,
  strengthDriftKPerDay,
} from '../../biology/nest-figures.ts';
import { nucBeesUsually } from '../../biology/assumed-figures.ts';
import { boxConductanceWPerK, heatPerBeeW, mantleConductanceShare } from '../../biology/thermal-figures.ts';
import { normalBelow } from '../statistics/mixture.ts';

/** One night, or the running one so far. */
export interface MarginNight {
  /** 0 while it runs, 1 for a day from its end on. */
  readonly ageDays: number;
  /** Greatest difference of brood to lagged outside while it was dark, K. */
  readonly heldK: number;
  /** The nest gave way: the difference is the margin itself, not a lower bound. */
  readonly gaveWay: boolean;
}

export interface Margin {
  readonly gridK: Float64Array;
  readonly weight: Float64Array;
}

/** Method: the margin stands on a grid of this step … */
const gridStepK = 0.5;
/** Method: … up to 60 K. */
const gridLength = 120;
/** By how many kelvin so many bees hold their brood above the outside, by heat budget. */
export const heldByK = (bees: number): number =>
  (bees * heatPerBeeW.value) / (boxConductanceWPerK.value * mantleConductanceShare.value);

/**
 * Prior by heat budget: bees × heat of a bee ÷ conductance of the box. The published figures are weak, so
 * that the spread is wide (a factor of about two either way); without a number of bees it is wider.
 */
export function marginPrior(bees: number | undefined): Margin {
  const centre = heldByK(bees ?? nucBeesUsually.value);
  const spread = (bees === undefined ? heatPriorUncountedLogSd : heatPriorLogSd).value;
  return normalised((k) => Math.exp(-0.5 * (Math.log(k / Math.max(0.5, centre)) / spread) ** 2) / k);
}

export function withNights(prior: Margin, nights: readonly MarginNight[]): Margin {
  const weight = prior.weight.map((w, i) => {
    const k = prior.gridK[i] as number;
    return nights.reduce((product, night) => {
      const sd = Math.hypot(nightErrorK.value, strengthDriftKPerDay.value * night.ageDays);
      const z = (k - night.heldK) / sd;
      return product * (oddNightShare.value + (night.gaveWay ? Math.exp(-0.5 * z * z) : normalBelow(z)));
    }, w);
  });
  const total = weight.reduce((a, b) => a + b, 0);
  return { gridK: prior.gridK, weight: weight.map((w) => w / total) };
}

function normalised(density: (k: number) => number): Margin {
  const gridK = Float64Array.from({ length: gridLength }, (_, i) => (i + 1) * gridStepK);
  const weight = gridK.map(density);
  const total = weight.reduce((a, b) => a + b, 0);
  return { gridK, weight: weight.map((w) => w / total) };
}
