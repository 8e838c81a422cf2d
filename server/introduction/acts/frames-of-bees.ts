/** The keeper's counts of the frames that bees cover. */
import { lastOf, ofKind } from '../log/effective-facts.ts';
import type { IntroductionState } from '../state.ts';

/** The oldest first. */
export const countsOfBees = ({
  facts,
  split,
}: IntroductionState): readonly { readonly atMs: number; readonly frames: number }[] => [
  ...(split ? [{ atMs: split.atMs, frames: split.framesOfBees }] : []),
  ...ofKind(facts, 'inspection').flatMap(({ atMs, fact: { framesOfBees: frames } }) =>
    frames === undefined ? [] : [{ atMs, frames }],
  ),
];

/** By the last count; undefined where nobody counted. */
export const framesOfBees = (state: IntroductionState): number | undefined =>
  lastOf(countsOfBees(state))?.frames;
