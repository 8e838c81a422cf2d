/** Limits in force at a scope, each with its standard, its bounds and where it was set. */
import {
  adjustable,
  limitSettingsSchema,
  noLimitSettings,
  originOf,
  problemWithLimit,
  limitsFor,
  type LimitSettings,
} from '../rules/engine/limits.ts';
import { rules } from '../rules/catalogue/registry.ts';
import type { Subject } from '../rules/engine/types.ts';
import type { ParsedBodyOf, ResponseOf } from '../contract/index.ts';

export const limitsKey = 'rule limits';

/** Asked for at every look of the rules, so it is built once: that costs more than the rules themselves. */
const storedLimits = limitSettingsSchema(rules);

/** What is stored; a stored limit that a newer version no longer knows is left out, not fatal. */
export function readLimits(stored: unknown): LimitSettings {
  const parsed = storedLimits.safeParse(stored ?? {});
  return parsed.success ? (parsed.data as LimitSettings) : noLimitSettings;
}

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

/** The settings with one limit set or taken back, or the sentence that says why not. */
export function withLimit(
  settings: LimitSettings,
  change: Change,
):
  { readonly ok: true; readonly settings: LimitSettings } | { readonly ok: false; readonly problem: string } {
  const { scope, scopeId, ruleId, field, value } = change;
  if (scope !== 'farm' && scopeId === undefined)
    return { ok: false, problem: `say which ${scope} the limit is for` };
  const problem = problemWithLimit(rules, ruleId, field, value ?? standardOf(ruleId, field));
  if (problem !== null) return { ok: false, problem };
  if (scope === 'farm')
    return { ok: true, settings: { ...settings, farm: set(settings.farm, ruleId, field, value) } };
  const layer = scope === 'site' ? 'sites' : 'nucs';
  const id = scopeId ?? '';
  const changed = { ...settings[layer], [id]: set(settings[layer][id] ?? {}, ruleId, field, value) };
  return { ok: true, settings: { ...settings, [layer]: changed } };
}

type Choices = LimitSettings['farm'];

function set(choices: Choices, ruleId: string, field: string, value: number | null): Choices {
  const { [field]: _before, ...others } = choices[ruleId] ?? {};
  return { ...choices, [ruleId]: value === null ? others : { ...others, [field]: value } };
}

function standardOf(ruleId: string, field: string): number {
  const rule = rules.find(({ id }) => id === ruleId);
  return (rule && adjustable(rule)[field]?.standard) ?? 0;
}
