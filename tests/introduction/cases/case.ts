/** Form of a case history: what was logged, what the gates say at some moments, and where the plan puts its steps. */
import type { FactPayload } from '../../../server/introduction/log/facts.ts';
import type { GateName } from '../../../server/introduction/acts/gate.ts';
import type { PlanKind } from '../../../server/introduction/acts/plan-step.ts';
import type { IntroductionSetup } from '../../../server/introduction/state.ts';

/** On the site's clock; day 0 is 1 May. */
export interface Moment {
  readonly day: number;
  readonly hour: number;
}

export interface CaseHistory {
  readonly name: string;
  readonly setup?: Partial<IntroductionSetup>;
  readonly log: readonly (Moment & { readonly fact: FactPayload })[];
  readonly gates: readonly (Moment & {
    readonly gate: GateName;
    readonly answer: 'go' | 'wait' | 'stop';
    /** Part of the headline. */
    readonly says?: string;
    /** Day on which the wait ends. */
    readonly untilDay?: number;
  })[];
  readonly stage?: readonly (Moment & { readonly stage: string })[];
  /** Day on which the plan, as of a moment, puts the target of steps that are not done. */
  readonly plan?: Moment & { readonly days: Partial<Record<PlanKind, number>> };
  /** Kinds of contradictions found at the end of the log. */
  readonly contradictions?: readonly string[];
}
