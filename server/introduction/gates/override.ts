/** A keeper may go against a gate, with a reason; the gate says so and keeps its own answer. */
import { lastOf, ofKind } from '../log/effective-facts.ts';
import type { IntroductionState } from '../state.ts';
import type { Gate } from '../acts/gate.ts';

export function withOverride(state: IntroductionState, gate: Gate): Gate {
  const override = lastOf(
    ofKind(state.facts, 'gate-overridden').filter(({ fact }) => fact.gate === gate.gate),
  );
  if (!override || gate.answer === 'go') return gate;
  const { atMs, by, fact } = override;
  return { ...gate, overridden: { atMs, reason: fact.reason, ...(by === undefined ? {} : { by }) } };
}
