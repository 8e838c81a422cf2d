/**
 * How many cells this farm's looks miss, learnt from second looks: what a later look finds stood, for the most part,
 * at the earlier complete one. The prior is wide (one in eleven); each earlier nuc adds its likelihood.
 */
import { missedCellsCounted } from '../biology/figures.ts';
import { cellRecord } from './cells/cell-waves.ts';
import type { MissRate } from './log/setup.ts';
import { missEvidence, missRateFrom, widePrior, type MissEvidence } from './cells/standing-cells.ts';
import type { IntroductionState } from './state.ts';

/** What an ended introduction says; null where nothing was looked through twice, or its days are not known. */
export function looksEvidence(state: IntroductionState): MissEvidence | null {
  if (state.split === null || state.looks.complete.length < 2) return null;
  return missEvidence(cellRecord(state));
}

/** For the set-up of the next introduction; undefined where nothing was learnt, so that the wide prior holds. */
export const farmsMissRate = (earlier: readonly MissEvidence[]): MissRate | undefined =>
  earlier.length === 0
    ? undefined
    : { ...missRateFrom(widePrior, earlier, missedCellsCounted.value), learntFrom: earlier.length };
