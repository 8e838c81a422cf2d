/**
 * How many cells this keeper's looks miss, learnt from second looks: what a second look finds in earlier
 * introductions stood, for the most part, at the first.
 */
import { cellRecord } from './cell-waves.ts';
import type { MissRate } from './setup.ts';
import { learnMissRate, widePrior } from './standing-cells.ts';
import type { IntroductionState } from './state.ts';

/** A keeper's eye changes, and nobody's is proven to miss nothing: no more than this many looked-at cells count. */
const mostCells = 200;

/** A beta for the next introduction's set-up, from earlier ones of the same keeper, oldest first. */
export function keepersMissRate(earlier: readonly IntroductionState[]): MissRate {
  return earlier
    .filter((state) => state.looks.complete.length >= 2)
    .reduce((missRate: MissRate, state) => {
      const learnt = learnMissRate({ ...cellRecord(state), missRate });
      const size = learnt.alpha + learnt.beta;
      const keep = Math.min(1, mostCells / size);
      return { alpha: learnt.alpha * keep, beta: learnt.beta * keep };
    }, widePrior);
}
