/** The keeper's counts of the frames that bees cover. */
import { lastOf, ofKind } from '../log/effective-facts.ts';
import type { IntroductionState } from '../state.ts';

/** Nobody makes a split without bees: where an older entry says none they were not counted. */
export const framesAtSplit = ({ split }: Pick<IntroductionState, 'split'>): number | undefined =>
  split && split.framesOfBees > 0 ? split.framesOfBees : undefined;

/** The oldest first. */
export const countsOfBees = (
  state: IntroductionState,
): readonly { readonly atMs: number; readonly frames: number }[] => [
  ...(state.split && framesAtSplit(state) !== undefined
    ? [{ atMs: state.split.atMs, frames: state.split.framesOfBees }]
    : []),
  ...ofKind(state.facts, 'inspection').flatMap(({ atMs, fact: { framesOfBees: frames } }) =>
    frames === undefined ? [] : [{ atMs, frames }],
  ),
];

/** She was let out, and at the last count no bees were left. */
export const noBeesLeft = (state: IntroductionState): boolean =>
  state.queen.releasedAtMs !== null && framesOfBees(state) === 0;

/** By the last count; undefined where nobody counted. */
export const framesOfBees = (state: IntroductionState): number | undefined =>
  lastOf(countsOfBees(state))?.frames;
