/** How she came out of her cage. */
import type { EffectiveFact } from '../log/effective-facts.ts';
import type { QueenState } from './queen-state.ts';

interface Known {
  readonly facts: readonly EffectiveFact[];
  readonly queen: QueenState;
}

/** The mesh was lifted, or her cage taken out and she left in the nuc: no candy was eaten through, and no cage hangs there. */
export const letOutByHand = ({ facts, queen }: Known): boolean =>
  facts.some(({ atMs, fact }) => fact.kind === 'cage-taken-out' && atMs === queen.releasedAtMs);
