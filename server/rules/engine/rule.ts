/**
 * How a rule is written: what it is about, its limits with their bounds, its holds, and one pure `evaluate`.
 * `defineRule` checks each rule's own limits by type and hides them behind the one `Rule` shape.
 */
import type { RuleInput } from './inputs.ts';
import type { FigureUnit, Sentence } from '../../words/phrase.ts';
import type { AlertMessage, Condition, Evaluation, Evidence, SubjectKind, Urgency } from './types.ts';

/** One adjustable number: its standard value and the bounds within which it makes sense. */
export interface Limit {
  readonly standard: number;
  readonly min: number;
  readonly max: number;
  readonly unit: FigureUnit;
  readonly about: string;
}
export type LimitTable = Readonly<Record<string, Limit>>;
export type LimitValues = Readonly<Record<string, number>>;

export const limit = (
  standard: number,
  [min, max]: readonly [number, number],
  unit: FigureUnit,
  about: string,
): Limit => ({ standard, min, max, unit, about });

export type InputOn<K extends SubjectKind> = Extract<RuleInput, { readonly on: K }>;

interface RuleText<Id extends string = string> {
  readonly id: Id;
  /** What the alert is called. */
  readonly title: string;
  /** What the rule watches, in one sentence. */
  readonly about: string;
  readonly urgency: Urgency;
  readonly holdMin: number;
  readonly clearHoldMin: number;
  /** So long after its end it is not raised anew, unless it is more pressing then. */
  readonly quietMin?: number;
  /** Where the figures come from; "common practice" where nobody published it. */
  readonly sources: readonly string[];
}

export interface RuleSpec<
  Id extends string,
  K extends SubjectKind,
  L extends LimitTable,
> extends RuleText<Id> {
  readonly on: K;
  readonly limits: L;
  readonly evaluate: (input: InputOn<K>, limits: { readonly [Name in keyof L]: number }) => Evaluation;
}

export interface Rule<Id extends string = string> extends RuleText<Id> {
  readonly on: SubjectKind;
  readonly limits: LimitTable;
  readonly evaluate: (input: RuleInput, limits: LimitValues) => Evaluation;
}

export function defineRule<const Id extends string, K extends SubjectKind, const L extends LimitTable>(
  spec: RuleSpec<Id, K, L>,
): Rule<Id> {
  return {
    ...spec,
    evaluate: (input, limits) =>
      input.on === spec.on
        ? spec.evaluate(input as InputOn<K>, limits as { readonly [Name in keyof L]: number })
        : notApplicable(`looks at a ${spec.on}, not at a ${input.on}`),
  };
}

export const notApplicable = (because: Sentence): Evaluation => ({
  verdict: 'not-applicable',
  clear: true,
  conditions: [],
  because,
});

export const noData = (because: Sentence, conditions: readonly Condition[] = []): Evaluation => ({
  verdict: 'no-data',
  clear: false,
  conditions,
  because,
});

/** Nothing found, and past every easier limit too. */
export const nothingFound = (...conditions: readonly Condition[]): Evaluation => ({
  verdict: 'no',
  clear: true,
  conditions,
});

/** A finding: what it says is only worked out when it is needed. */
export interface Finding {
  readonly conditions: readonly Condition[];
  /** Past the second, easier limit; asked only when not every condition is met. */
  readonly clear: () => boolean;
  readonly message: () => AlertMessage;
  readonly evidence?: Evidence;
  readonly urgency?: Urgency;
}

/** Yes when every condition is met, no-data when one that could be met has no value, else no. */
export function decide({ conditions, clear, message, evidence, urgency }: Finding): Evaluation {
  const failed = conditions.some((condition) => condition.met === false);
  const unknown = conditions.find((condition) => condition.met === null);
  if (failed) return { verdict: 'no', clear: clear(), conditions };
  if (unknown) return noData(`${unknown.name} is not known`, conditions);
  return {
    verdict: 'yes',
    clear: false,
    conditions,
    message: message(),
    ...(evidence && { evidence }),
    ...(urgency && { urgency }),
  };
}
