/** Limits as they lie in the store, read one by one: a bad one leaves the others in force. */
import {
  adjustable,
  noLimitSettings,
  problemWithLimit,
  type LimitChoices,
  type LimitSettings,
} from './limits.ts';
import { rules } from '../catalogue/registry.ts';

export const limitsKey = 'rule limits';

export interface LimitFault {
  /** From the layer down: `farm`, rule, limit; `nucs`, nuc, rule, limit. */
  readonly path: readonly string[];
  readonly problem: string;
  /** The stored value as JSON. */
  readonly text: string;
}
export interface LimitsRead {
  /** Without those that can't be read or that no rule knows: the layer above, or the standard, holds for them. */
  readonly limits: LimitSettings;
  readonly faults: readonly LimitFault[];
}

const known = new Map<string, ReturnType<typeof adjustable>>(
  rules.map((rule) => [rule.id, adjustable(rule)]),
);
const isLimit = (ruleId: string, name: string): boolean => Object.hasOwn(known.get(ruleId) ?? {}, name);

export function readLimits(stored: unknown): LimitsRead {
  const faults: LimitFault[] = [];
  const layers = entriesOf(stored ?? {}, [], faults);
  const within = (name: string): unknown => layers.find(([layer]) => layer === name)?.[1] ?? {};
  const perSubject = (layer: 'sites' | 'nucs'): LimitSettings['nucs'] =>
    Object.fromEntries(
      entriesOf(within(layer), [layer], faults).map(([id, choices]) => [
        id,
        readChoices(choices, [layer, id], faults),
      ]),
    );
  const limits: LimitSettings = {
    ...noLimitSettings,
    farm: readChoices(within('farm'), ['farm'], faults),
    sites: perSubject('sites'),
    nucs: perSubject('nucs'),
  };
  return { limits, faults };
}

/** A rule or limit that this version doesn't know is left out without a word: another version's. */
function readChoices(stored: unknown, path: readonly string[], faults: LimitFault[]): LimitChoices {
  return Object.fromEntries(
    entriesOf(stored, path, faults)
      .filter(([ruleId]) => known.has(ruleId))
      .map(([ruleId, fields]) => [
        ruleId,
        Object.fromEntries(
          entriesOf(fields, [...path, ruleId], faults).flatMap(([name, value]) => {
            const number = typeof value === 'number' ? value : NaN;
            const problem = problemWithLimit(rules, ruleId, name, number);
            if (problem === null) return [[name, number] as const];
            if (isLimit(ruleId, name))
              faults.push({
                path: [...path, ruleId, name],
                problem: typeof value === 'number' ? problem : 'expected a number',
                text: JSON.stringify(value),
              });
            return [];
          }),
        ),
      ]),
  );
}

function entriesOf(stored: unknown, path: readonly string[], faults: LimitFault[]): [string, unknown][] {
  if (isObject(stored)) return Object.entries(stored);
  faults.push({ path, problem: 'expected an object', text: JSON.stringify(stored) });
  return [];
}
const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** What is stored with one limit set, or taken away where `value` is null; everything else stays, readable or not. */
export function storedWithLimit(stored: unknown, path: readonly string[], value: number | null): unknown {
  const [head, ...rest] = path;
  if (head === undefined) return value;
  const { [head]: below, ...others } = isObject(stored) ? stored : {};
  if (rest.length === 0 && value === null) return others;
  return { ...others, [head]: storedWithLimit(below, rest, value) };
}
