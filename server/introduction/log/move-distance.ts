/** How far the split was moved: whether its foragers find home. */
import { homingRangeMetres, lowEnd } from '../../biology/figures.ts';
import { lastOf, ofKind, type EffectiveFact } from './effective-facts.ts';

export const movedMetres = (facts: readonly EffectiveFact[]): number | null =>
  lastOf(ofKind(facts, 'moved'))?.fact.metres ?? null;

/** Moved so far that its foragers do not find home: they stay in the split. */
export const foragersStay = (facts: readonly EffectiveFact[]): boolean =>
  (movedMetres(facts) ?? 0) >= lowEnd(homingRangeMetres);
