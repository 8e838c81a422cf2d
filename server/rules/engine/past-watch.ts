/** The watch on its way through a span of history: what it knows at an instant, what its rules find there, and its alerts. */
import { livePhase, type AlertState, type Effect } from './alert-state.ts';
import {
  evaluateAll,
  type Alerts,
  type Evaluated,
  type EvaluateOptions,
  type Looked,
  type LookedBefore,
} from './evaluate.ts';
import type { RuleInput } from './inputs.ts';
import { rules as allRules } from '../catalogue/registry.ts';
import type { Rule } from './rule.ts';

export interface WatchPlan extends EvaluateOptions {
  /** What was known at that instant, and nothing that came later; asked for instants in any order, for each once. */
  readonly inputsAt: (nowMs: number) => readonly RuleInput[];
}

export class PastWatch {
  readonly effects: Effect[] = [];
  /** Instants that were looked at, by one rule at least. */
  ticks = 0;
  readonly #inputsAt: WatchPlan['inputsAt'];
  readonly #options: EvaluateOptions;
  readonly #lookedBefore: LookedBefore = new WeakMap();
  /** Of instants still to come. */
  readonly #inputs = new Map<number, readonly RuleInput[]>();
  /** Instants still to come at which all rules have looked. */
  readonly #looked = new Set<number>();
  readonly #chosen = new Map<string, readonly Rule[]>();
  #alerts: Alerts = new Map<string, AlertState>();
  #found: Evaluated | undefined;
  #seen: readonly RuleInput[] = [];

  constructor({ inputsAt, ...options }: WatchPlan) {
    this.#inputsAt = inputsAt;
    this.#options = options;
  }

  get alerts(): Alerts {
    return this.#alerts;
  }
  /** What the look that was taken last found. */
  get found(): Evaluated | undefined {
    return this.#found;
  }
  /** What it saw. */
  get seen(): readonly RuleInput[] {
    return this.#seen;
  }

  inputsAt(atMs: number): readonly RuleInput[] {
    let inputs = this.#inputs.get(atMs);
    if (!inputs) {
      this.#inputs.set(atMs, (inputs = this.#inputsAt(atMs)));
      this.ticks += 1;
    }
    return inputs;
  }

  /** What all rules would find at a later instant, with the alerts as they stand. */
  lookAt(atMs: number): Evaluated {
    const inputs = this.inputsAt(atMs);
    this.#looked.add(atMs);
    return evaluateAll(inputs, this.#alerts, atMs, { ...this.#options, lookedBefore: this.#lookedBefore });
  }

  /**
   * What these rules alone would find there: by far cheaper, for what other signals rest on is not worked out. What only other
   * rules find at that very instant explains nothing to them.
   */
  glanceAt(atMs: number, ruleIds: ReadonlySet<string>): Evaluated {
    const rules = this.#rulesOf(ruleIds);
    const inputs = this.inputsAt(atMs).filter(({ on }) => rules.some((rule) => rule.on === on));
    return evaluateAll(inputs, this.#alerts, atMs, { ...this.#options, rules, everything: false });
  }

  /** Goes on to an instant that was looked at: its alerts stand from then on. */
  take(evaluated: Evaluated, atMs: number): number {
    this.#alerts = evaluated.alerts;
    this.effects.push(...evaluated.effects);
    this.#found = evaluated;
    this.#seen = this.#inputs.get(atMs) ?? [];
    for (const knownMs of this.#inputs.keys()) if (knownMs <= atMs) this.#inputs.delete(knownMs);
    for (const lookedMs of this.#looked) if (lookedMs <= atMs) this.#looked.delete(lookedMs);
    return atMs;
  }

  /** The last instant up to `endMs` that was looked at already, and costs nothing. */
  lastLookedMs(endMs: number): number | undefined {
    const known = [...this.#looked].filter((atMs) => atMs <= endMs);
    return known.length === 0 ? undefined : Math.max(...known);
  }

  /** In the order of all rules, so that their findings can be held side by side. */
  #rulesOf(ruleIds: ReadonlySet<string>): readonly Rule[] {
    const key = [...ruleIds].sort().join(' ');
    let rules = this.#chosen.get(key);
    if (!rules) {
      rules = (this.#options.rules ?? allRules).filter(({ id }) => ruleIds.has(id));
      this.#chosen.set(key, rules);
    }
    return rules;
  }
}

/** Ids of rules. */
export type Others = ReadonlySet<string> | 'other-subjects';

/** The rules that say something else, so that the looks in between might have moved an alert otherwise than by the passing of time. */
export function otherwise(
  a: Evaluated,
  b: Evaluated,
  isKnown: (looked: Looked) => boolean = () => false,
): Others {
  if (a.evaluations.length !== b.evaluations.length) return 'other-subjects';
  const others = new Set<string>();
  for (const [i, one] of a.evaluations.entries()) {
    const other = b.evaluations[i];
    if (other?.key !== one.key) return 'other-subjects';
    if (!isKnown(other) && !saysTheSame(a, one, other)) others.add(one.ruleId);
  }
  return others;
}

function saysTheSame({ alerts }: Evaluated, one: Looked, other: Looked): boolean {
  if (speaks(one) !== speaks(other)) return false;
  // Where nothing goes on, it is all one why nothing is told: another finding explains it, or there is none.
  if (isAtEase(alerts.get(one.key))) return true;
  const [was, is] = [one.evaluation, other.evaluation];
  if ((one.quietBecause === undefined) !== (other.quietBecause === undefined)) return false;
  return was.verdict === is.verdict && was.clear === is.clear && was.urgency === is.urgency;
}

const speaks = ({ evaluation, quietBecause }: Looked): boolean =>
  evaluation.verdict === 'yes' && quietBecause === undefined;

const isAtEase = (alert: AlertState | undefined): boolean =>
  alert === undefined || ['quiet', 'cleared'].includes(livePhase(alert).phase);
