/** A split that got no brood: no cell can be built in it. */
import { ofKind, type EffectiveFact } from '../log/effective-facts.ts';
import { cellCounts } from '../log/facts.ts';
import type { TimeOut } from '../queen/queen-state.ts';
import { broodSights } from './brood-sights.ts';

/** Null where there was no split, or it got brood: as it was logged, or as brood or a cell that was seen since shows. */
export function splitWithoutBrood(
  facts: readonly EffectiveFact[],
  couldLay: readonly TimeOut[],
): EffectiveFact<'split-made'> | null {
  const [split] = ofKind(facts, 'split-made');
  if (!split) return null;
  const { framesOfSealedBrood, framesOfOpenBrood, oldQueen, cellsAlreadyThere } = split.fact;
  const cells = cellsAlreadyThere === 'present-and-left' || cellsAlreadyThere === 'present-and-removed';
  if (framesOfSealedBrood + framesOfOpenBrood > 0 || oldQueen === 'not-seen' || cells) return null;
  const frameMs = ofKind(facts, 'brood-frame-added')[0]?.atMs ?? Infinity;
  const before = facts.filter(({ atMs }) => atMs < frameMs);
  const broodSeen = broodSights(before, couldLay).some(
    ({ hers, youngest, youngLarvaInOpenCell }) =>
      !hers && ((youngest !== null && youngest !== 'none') || youngLarvaInOpenCell),
  );
  const cellSeen = before.some(
    ({ fact }) => 'cells' in fact && Object.values(cellCounts(fact.cells)).some((count) => count > 0),
  );
  return broodSeen || cellSeen ? null : split;
}
