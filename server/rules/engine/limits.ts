/**
 * Limits that the keeper may set: for the farm, for a site, for a nuc, the nearest one wins.
 *
 * Every rule also takes `holdMin`, `clearHoldMin` and `on` (1 or 0), so that a rule can be made more
 * patient or switched off where it makes no sense.
 */
import { limit, type LimitTable, type LimitValues, type Rule } from './rule.ts';
import type { Subject } from './types.ts';

/** Rule id → limit name → value. */
export type LimitChoices = Readonly<Record<string, Readonly<Record<string, number>>>>;

export interface LimitSettings {
  readonly farm: LimitChoices;
  readonly sites: Readonly<Record<string, LimitChoices>>;
  readonly nucs: Readonly<Record<string, LimitChoices>>;
}
export const noLimitSettings: LimitSettings = { farm: {}, sites: {}, nucs: {} };

/** Every number of a rule that may be set, the common ones included. */
export const adjustable = (rule: Rule): LimitTable => ({
  ...rule.limits,
  holdMin: limit(rule.holdMin, [0, 10_080], 'min', 'How long it must last before it is raised'),
  clearHoldMin: limit(rule.clearHoldMin, [0, 10_080], 'min', 'How long it must be over before it is cleared'),
  on: limit(1, [0, 1], '', 'On (1) or off (0)'),
});

/** One change, checked: the sentence that says what is wrong with it, or null. */
export function problemWithLimit(
  rules: readonly Rule[],
  ruleId: string,
  name: string,
  value: number,
): string | null {
  const rule = rules.find(({ id }) => id === ruleId);
  if (!rule) return `there is no rule "${ruleId}"`;
  const table = adjustable(rule);
  const found = Object.hasOwn(table, name) ? table[name] : undefined;
  if (!found) return `the rule "${ruleId}" has no limit "${name}"; it has ${Object.keys(table).join(', ')}`;
  if (value >= found.min && value <= found.max) return null;
  return `"${name}" must lie between ${String(found.min)} and ${String(found.max)}, and ${String(value)} does not`;
}

export type LimitOrigin = 'standard' | 'farm' | 'site' | 'nuc';

/** The layers that count for a subject, the nearest last. */
function layers(settings: LimitSettings, ruleId: string, subject: Subject) {
  const nucId = subject.kind === 'nuc' ? subject.id : subject.nucId;
  const siteId = subject.kind === 'site' ? subject.id : subject.siteId;
  return {
    farm: settings.farm[ruleId],
    site: siteId === undefined ? undefined : settings.sites[siteId]?.[ruleId],
    nuc: nucId === undefined ? undefined : settings.nucs[nucId]?.[ruleId],
  };
}

const standards = new WeakMap<Rule, LimitValues>();

function standardOf(rule: Rule): LimitValues {
  const known = standards.get(rule);
  if (known) return known;
  const values = Object.fromEntries(Object.entries(adjustable(rule)).map(([name, l]) => [name, l.standard]));
  standards.set(rule, values);
  return values;
}

/** The values in force for a rule and subject: farm, then site, then nuc over the rule's standard. */
export function limitsFor(rule: Rule, subject: Subject, settings: LimitSettings): LimitValues {
  const { farm, site, nuc } = layers(settings, rule.id, subject);
  const standard = standardOf(rule);
  return (farm ?? site ?? nuc) ? { ...standard, ...farm, ...site, ...nuc } : standard;
}

/** Where a value in force was set. */
export function originOf(rule: Rule, name: string, subject: Subject, settings: LimitSettings): LimitOrigin {
  const found = layers(settings, rule.id, subject);
  for (const origin of ['nuc', 'site', 'farm'] as const)
    if (found[origin]?.[name] !== undefined) return origin;
  return 'standard';
}
