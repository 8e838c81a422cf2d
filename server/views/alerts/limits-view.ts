/** Limits in force at a scope, each with its standard, its bounds and where it was set. */
import {
  adjustable,
  originOf,
  problemWithLimit,
  limitsFor,
  type LimitSettings,
} from '../../rules/engine/limits.ts';
import { rules } from '../../rules/catalogue/registry.ts';
import { storedWithLimit } from '../../rules/engine/stored-limits.ts';
import type { Subject } from '../../rules/engine/types.ts';
import type { ParsedBodyOf, ResponseOf } from '../../contract/index.ts';

export function limitsToWire(settings: LimitSettings, subject: Subject): ResponseOf<'listLimits'> {
  return {
    items: rules.map((rule) => {
      const values = limitsFor(rule, subject, settings);
      return {
        ruleId: rule.id,
        title: rule.title,
        about: rule.about,
        fields: Object.entries(adjustable(rule)).map(([name, { about, unit, standard, min, max }]) => ({
          name,
          about,
          unit,
          value: values[name] ?? standard,
          standard,
          min,
          max,
          setAt: originOf(rule, name, subject, settings),
        })),
      };
    }),
  };
}

type Change = ParsedBodyOf<'putLimit'>;

/** What to store with one limit set or taken back, all else as it was; or the sentence that says why not. */
export function withLimit(
  stored: unknown,
  change: Change,
): { readonly ok: true; readonly stored: unknown } | { readonly ok: false; readonly problem: string } {
  const { scope, scopeId, ruleId, field, value } = change;
  if (scope !== 'farm' && scopeId === undefined)
    return { ok: false, problem: `say which ${scope} the limit is for` };
  const problem = problemWithLimit(rules, ruleId, field, value ?? standardOf(ruleId, field));
  if (problem !== null) return { ok: false, problem };
  const layer = { farm: ['farm'], site: ['sites', scopeId ?? ''], nuc: ['nucs', scopeId ?? ''] }[scope];
  return { ok: true, stored: storedWithLimit(stored, [...layer, ruleId, field], value) };
}

function standardOf(ruleId: string, field: string): number {
  const rule = rules.find(({ id }) => id === ruleId);
  return (rule && adjustable(rule)[field]?.standard) ?? 0;
}
