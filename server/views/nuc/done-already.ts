/** "No" because it is done is another answer than "no, it would harm her". */
import type { Gate } from '../../introduction/acts/gate.ts';
import type { IntroductionState } from '../../introduction/state.ts';

/** The cage hangs, or the queen was let out of it and nobody has missed her yet. */
export function doneAlready(
  { gate, answer }: Pick<Gate, 'gate' | 'answer'>,
  state: Pick<IntroductionState, 'queen'> | null,
): { readonly done?: true } {
  if (answer !== 'stop' || !state) return {};
  const { where, releasedAtMs, notFoundAtMs, outByAccident } = state.queen;
  const isLetOut =
    where === 'released' && releasedAtMs !== null && notFoundAtMs.length === 0 && !outByAccident;
  const isDone = gate === 'hang-cage' ? where === 'in-cage' || isLetOut : gate === 'open-candy' && isLetOut;
  return isDone ? { done: true } : {};
}
