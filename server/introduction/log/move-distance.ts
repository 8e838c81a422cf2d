/** How far the split was moved: whether its foragers find home. */
import { developmentMs } from '../../biology/duration.ts';
import { foragersLeaveDays, highEnd, homingRangeMetres, lowEnd } from '../../biology/figures.ts';
import { lastOf, ofKind, type EffectiveFact } from './effective-facts.ts';

export const movedMetres = (facts: readonly EffectiveFact[]): number | null =>
  lastOf(ofKind(facts, 'moved'))?.fact.metres ?? null;

/** It was moved when the old bees of the split had flown home: none of them came along. */
export function movedWithoutThem(facts: readonly EffectiveFact[]): boolean {
  const split = ofKind(facts, 'split-made')[0];
  const first = ofKind(facts, 'moved')[0];
  return (
    split !== undefined &&
    first !== undefined &&
    first.atMs > split.atMs + developmentMs(highEnd(foragersLeaveDays))
  );
}

/** Its old bees came along on the first move, and from there they do not find home: what it loses is none of theirs. */
export const noneFlewHome = (facts: readonly EffectiveFact[]): boolean =>
  foragersStay(facts) &&
  !movedWithoutThem(facts) &&
  (ofKind(facts, 'moved')[0]?.fact.metres ?? 0) >= lowEnd(homingRangeMetres);

/** Moved so far that its foragers do not find home: they stay in the split. */
export const foragersStay = (facts: readonly EffectiveFact[]): boolean =>
  (movedMetres(facts) ?? 0) >= lowEnd(homingRangeMetres);
