/** Why, and why not: each rule's last evaluation of a nuc with every condition's value. */
import type { EvaluationDto } from '../../contract/alerts.ts';
import { iso } from '../../farm/wire.ts';
import type { RuleEvaluation } from '../../rules/engine/evaluate.ts';
import { setCondition } from '../../rules/engine/conditions.ts';
import { setFor, type Display } from '../../words/phrase.ts';
import { rules } from '../../rules/catalogue/registry.ts';

export const evaluationsView = (evaluations: readonly RuleEvaluation[], display: Display): EvaluationDto[] =>
  evaluations.map((evaluation) => toWire(evaluation, display));

function toWire(
  { ruleId, subject, atMs, evaluation, suppressedBecause }: RuleEvaluation,
  display: Display,
): EvaluationDto {
  const rule = rules.find(({ id }) => id === ruleId);
  const say = setFor(display);
  const because = suppressedBecause ?? evaluation.because;
  const about = subject.kind === 'nuc' ? '' : `, ${subject.name}`;
  return {
    ruleId,
    title: `${rule?.title ?? ruleId}${about}`,
    about: say(rule?.about ?? ''),
    verdict: evaluation.verdict,
    at: iso(atMs),
    conditions: evaluation.conditions.map((condition) => setCondition(condition, display)),
    ...(because === undefined ? {} : { quietBecause: say(because) }),
  };
}
