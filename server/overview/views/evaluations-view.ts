/** Why, and why not: each rule's last look at a nuc with every condition's value. */
import type { EvaluationDto } from '../../http/contract/alerts.ts';
import { iso } from '../../http/wire.ts';
import type { Looked } from '../../rules/evaluate.ts';
import { setFigure, type Display } from '../../rules/phrase.ts';
import { rules } from '../../rules/registry.ts';
import type { Condition } from '../../rules/types.ts';

export const evaluationsView = (looks: readonly Looked[], display: Display): EvaluationDto[] =>
  looks.map((looked) => toWire(looked, display));

function toWire(
  { ruleId, subject, atMs, evaluation, quietBecause }: Looked,
  display: Display,
): EvaluationDto {
  const rule = rules.find(({ id }) => id === ruleId);
  const because = quietBecause ?? evaluation.because;
  const about = subject.kind === 'nuc' ? '' : `, ${subject.name}`;
  return {
    ruleId,
    title: `${rule?.title ?? ruleId}${about}`,
    about: rule?.about ?? '',
    verdict: evaluation.verdict,
    at: iso(atMs),
    conditions: evaluation.conditions.map(({ name, value, limit, unit, met }) => ({
      name,
      value: shown(value, unit, display),
      limit: shown(limit, unit, display),
      met,
    })),
    ...(because === undefined ? {} : { quietBecause: because }),
  };
}

function shown(value: Condition['value'], unit: Condition['unit'], display: Display): string {
  if (value === null) return 'not known';
  return typeof value === 'string' ? value : setFigure({ value, unit }, display);
}
