/** What the log says about where queen cells came from and what complete looks found. */
import { ofKind } from './effective-facts.ts';
import { livingCells } from './looks.ts';
import { wavesBetween, type LookFound } from './standing-cells.ts';
import type { Wave } from './cell-fates.ts';
import type { IntroductionState } from './state.ts';

/** Waves in which cells can have been started, equally likely: the loss, and each frame of young brood left in. */
export function wavesOf(state: IntroductionState): readonly Wave[] {
  const { queenlessSince, lastFertileEgg } = state.evidence;
  const firstLook = state.looks.all[0]?.atMs ?? state.nowMs;
  const latest = queenlessSince.latestMs ?? lastFertileEgg.latestMs ?? firstLook;
  const brought = ofKind(state.facts, 'brood-frame-added')
    .filter(({ fact }) => !fact.asTestFrame && fact.brood !== 'sealed-only')
    .map(({ atMs }) => [{ fromMs: atMs, weight: 1 }]);
  const groups = [wavesBetween(queenlessSince.earliestMs, latest), ...brought];
  return groups.flatMap((waves) => waves.map((wave) => ({ ...wave, weight: wave.weight / groups.length })));
}

export const looksFound = (state: IntroductionState): readonly LookFound[] =>
  state.looks.complete.map((look) => ({ atMs: look.atMs, cells: livingCells(look) }));
