/**
 * Every rule through the same scenarios, as data: what its input does at which minute, and how many alerts
 * stand then. H is the rule's hold, C its clearing hold, both in minutes.
 */
import { describe, expect, it } from 'vitest';
import { isOpen, type AlertState } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll } from '../../server/rules/engine/evaluate.ts';
import { noLimitSettings } from '../../server/rules/engine/limits.ts';
import { allAfterOutage } from '../../server/rules/engine/outage.ts';
import { inWords } from '../../server/words/phrase.ts';
import { rules } from '../../server/rules/catalogue/registry.ts';
import type { Rule } from '../../server/rules/engine/rule.ts';
import { minute, noon } from './made-up.ts';
import { ruleCases, type RuleCase } from './rule-cases.ts';

type Level = 'under' | 'at' | 'over' | 'easing' | 'gap';
interface Tick {
  /** Minutes since the start. */
  readonly t: (H: number, C: number) => number;
  readonly is: Level;
  /** Alerts that stand after it. */
  readonly open: 0 | 1;
  /** Minutes before it in which nobody was looking. */
  readonly away?: (H: number) => number;
  /** A hold set by the keeper from here on. */
  readonly hold?: (H: number) => number;
}
interface Scenario {
  readonly name: string;
  readonly ticks: readonly Tick[];
  /** How often it was raised in all; once unless said. */
  readonly raised?: number;
  readonly from?: number;
}

const at = (t: Tick['t'], is: Level, open: 0 | 1, more: Partial<Tick> = {}): Tick => ({
  t,
  is,
  open,
  ...more,
});
const start: Tick['t'] = () => 0;
const H: Tick['t'] = (h) => h;

const holding: readonly Scenario[] = [
  {
    name: 'never',
    raised: 0,
    ticks: [at(start, 'under', 0), at(H, 'under', 0), at((h) => 3 * h, 'under', 0)],
  },
  { name: 'just over', ticks: [at(start, 'over', 0), at((h) => h - 1, 'over', 0), at(H, 'over', 1)] },
  {
    name: 'one tick too short',
    raised: 0,
    ticks: [at(start, 'over', 0), at((h) => h - 1, 'over', 0), at(H, 'under', 0)],
  },
  {
    name: 'interrupted once',
    ticks: [
      at(start, 'over', 0),
      at((h) => h - 1, 'under', 0),
      at(H, 'over', 0),
      at((h) => 2 * h - 1, 'over', 0),
      at((h) => 2 * h, 'over', 1),
    ],
  },
  {
    name: 'the same tick twice',
    ticks: [at(start, 'over', 0), at(start, 'over', 0), at(H, 'over', 1), at(H, 'over', 1)],
  },
  {
    name: 'a late look, out of order',
    ticks: [at(start, 'over', 0), at((h) => h / 2, 'over', 0), at((h) => h / 4, 'over', 0), at(H, 'over', 1)],
  },
  {
    name: 'killed in the middle, started again at once',
    ticks: [
      at(start, 'over', 0),
      at((h) => h / 2, 'over', 0, { away: () => 0 }),
      at((h) => h - 1, 'over', 0),
      at(H, 'over', 1),
    ],
  },
  {
    name: 'down for long in the middle: that is not holding time',
    ticks: [
      at(start, 'over', 0),
      at((h) => 5.5 * h, 'over', 0, { away: (h) => 5 * h }),
      at((h) => 6 * h - 1, 'over', 0),
      at((h) => 6 * h, 'over', 1),
    ],
  },
  {
    name: 'hold made shorter while holding',
    ticks: [at(start, 'over', 0), at((h) => h / 2, 'over', 1, { hold: (h) => h / 2 })],
  },
  {
    name: 'hold made longer while holding',
    ticks: [
      at(start, 'over', 0),
      at(H, 'over', 0, { hold: (h) => 2 * h }),
      at((h) => 2 * h, 'over', 1, { hold: (h) => 2 * h }),
    ],
  },
  {
    name: 'night of the spring change',
    from: Date.UTC(2026, 2, 29, 0, 30),
    ticks: [at(start, 'over', 0), at((h) => h - 1, 'over', 0), at(H, 'over', 1)],
  },
  {
    name: 'night of the autumn change',
    from: Date.UTC(2026, 9, 25, 0, 30),
    ticks: [at(start, 'over', 0), at((h) => h - 1, 'over', 0), at(H, 'over', 1)],
  },
];

const atOnce: readonly Scenario[] = [
  { name: 'never', raised: 0, ticks: [at(start, 'under', 0), at(() => 600, 'under', 0)] },
  { name: 'just over', ticks: [at(start, 'over', 1), at(() => 1, 'over', 1)] },
  { name: 'the same tick twice', ticks: [at(start, 'over', 1), at(start, 'over', 1)] },
  {
    name: 'a late look, out of order',
    ticks: [at(start, 'over', 1), at(() => 5, 'over', 1), at(() => 3, 'over', 1)],
  },
  {
    name: 'killed and started again',
    ticks: [at(start, 'over', 1), at(() => 300, 'over', 1, { away: () => 290 })],
  },
  {
    name: 'given a hold by the keeper',
    ticks: [
      at(start, 'over', 0, { hold: () => 10 }),
      at(() => 9, 'over', 0, { hold: () => 10 }),
      at(() => 10, 'over', 1, { hold: () => 10 }),
    ],
  },
  {
    name: 'night of the spring change',
    from: Date.UTC(2026, 2, 29, 0, 30),
    ticks: [at(start, 'over', 1), at(() => 60, 'over', 1)],
  },
];

const stale: Scenario = {
  name: 'a stale sensor says nothing',
  raised: 0,
  ticks: [at(start, 'gap', 0), at((h) => h + 60, 'gap', 0)],
};
const gaps: readonly Scenario[] = [
  stale,
  {
    name: 'no data never clears',
    ticks: [
      at(start, 'over', 0),
      at(H, 'over', 1),
      at((h) => h + 5, 'gap', 1),
      at((h, c) => h + c + 9000, 'gap', 1),
      at((h, c) => h + c + 9001, 'over', 1),
    ],
  },
];
const holdingGaps: readonly Scenario[] = [
  {
    name: 'a gap within the hold: it goes on after it',
    ticks: [
      at(start, 'over', 0),
      at((h) => h / 2, 'gap', 0),
      at((h) => 0.75 * h, 'over', 0),
      at((h) => 1.25 * h - 1, 'over', 0),
      at((h) => 1.25 * h, 'over', 1),
    ],
  },
  {
    name: 'a gap longer than the hold: it starts again',
    ticks: [
      at(start, 'over', 0),
      at((h) => h / 2, 'gap', 0),
      at((h) => 2 * h, 'over', 0),
      at((h) => 3 * h - 1, 'over', 0),
      at((h) => 3 * h, 'over', 1),
    ],
  },
];
const clearing: readonly Scenario[] = [
  {
    name: 'clears after its own hold and not before',
    ticks: [
      at(start, 'over', 0),
      at(H, 'over', 1),
      at((h) => h + 1, 'under', 1),
      at((h, c) => h + c, 'under', 1),
      at((h, c) => h + c + 1, 'under', 0),
    ],
  },
  {
    name: 'back before it cleared is the same alert',
    ticks: [
      at(start, 'over', 0),
      at(H, 'over', 1),
      at((h) => h + 1, 'under', 1),
      at((h, c) => h + c, 'over', 1),
      at((h, c) => h + c + 1, 'under', 1),
    ],
  },
];
const easing: readonly Scenario[] = [
  {
    name: 'between the two limits it stays',
    ticks: [
      at(start, 'over', 0),
      at(H, 'over', 1),
      at((h) => h + 1, 'easing', 1),
      at((h, c) => h + c + 600, 'easing', 1),
    ],
  },
];

/** What is foreseen is over once its moment has passed, whatever the sensor says then. */
const foreseen = (is: Tick['is']): Scenario => ({
  name: `its moment passes: ${is}`,
  ticks: [
    at(start, 'over', 0),
    at(H, 'over', 1),
    at((h) => h + 5, is, 1),
    at((h) => h + 1600, is, 0),
    at((h) => h + 1601, is, 0),
  ],
});

const ruleOf = (id: string): Rule => rules.find((rule) => rule.id === id)!;

/** With a hold of zero the first look raises at once. */
const raisedAtStart = (scenario: Scenario): Scenario => ({
  ...scenario,
  ticks: scenario.ticks.map((tick, i) => (i === 0 && tick.is === 'over' ? { ...tick, open: 1 } : tick)),
});

function scenariosFor(one: RuleCase, { holdMin, clearHoldMin }: Rule): Scenario[] {
  const list = [...(holdMin === 0 ? atOnce : holding)];
  const exactly = one.atSpeaks === true ? 1 : 0;
  if (one.at) {
    list.push({
      name: 'exactly at',
      raised: exactly,
      ticks: [at(start, 'at', holdMin === 0 ? exactly : 0), at(H, 'at', exactly)],
    });
  }
  const fit = holdMin === 0 ? raisedAtStart : (scenario: Scenario) => scenario;
  if (one.foreseen) {
    list.push(stale, foreseen('gap'), ...holdingGaps);
    if (one.easing) list.push(foreseen('easing'));
    return [...list, ...clearing];
  }
  if (one.gap) list.push(...gaps.map(fit), ...(holdMin === 0 ? [] : holdingGaps));
  if (clearHoldMin > 0) list.push(...clearing.map(fit));
  if (one.easing) list.push(...easing.map(fit));
  return list;
}

function run(one: RuleCase, rule: Rule, scenario: Scenario) {
  let alerts: ReadonlyMap<string, AlertState> = new Map<string, AlertState>();
  let raised = 0;
  const opens = scenario.ticks.map(({ t, is, away, hold }) => {
    const nowMs = (scenario.from ?? noon) + Math.round(t(rule.holdMin, rule.clearHoldMin) * minute);
    const input = one[is]!(nowMs);
    const limits = hold
      ? { ...noLimitSettings, farm: { [rule.id]: { holdMin: hold(rule.holdMin) } } }
      : noLimitSettings;
    // Through text at every tick: what survives is what a restart finds.
    const stored = new Map(JSON.parse(JSON.stringify([...alerts])) as [string, AlertState][]);
    const { alerts: found } = allAfterOutage(stored, (away?.(rule.holdMin) ?? 0) * minute);
    const result = evaluateAll([input], found, nowMs, { rules: [rule], limits });
    raised += result.effects.filter(({ kind }) => kind === 'raised').length;
    alerts = result.alerts;
    return [...alerts.values()].filter(isOpen).length;
  });
  return { opens, raised };
}

const table = ruleCases.flatMap((one) =>
  scenariosFor(one, ruleOf(one.id)).map((scenario) => ({ rule: one.id, name: scenario.name, one, scenario })),
);

describe('rule scenarios', () => {
  it('has a case for every rule, and for no other', () => {
    expect([...new Set(ruleCases.map(({ id }) => id))].sort(), 'give it a row in rule-cases.ts').toEqual(
      rules.map(({ id }) => id).sort(),
    );
  });

  it.each(table)('$rule: $name', ({ rule, one, scenario }) => {
    const { opens, raised } = run(one, ruleOf(rule), scenario);
    expect(opens).toEqual(scenario.ticks.map(({ open }) => open));
    expect(raised).toBe(scenario.raised ?? 1);
  });
});

describe('what a rule says', () => {
  const display = { timeZone: 'Europe/Berlin', temperature: 'F', weight: 'lb' } as const;
  it.each(ruleCases.map((one) => [one.id, one] as const))(
    '%s says what to do, what was seen, why and how sure',
    (id, one) => {
      const rule = ruleOf(id);
      const limits = Object.fromEntries(
        Object.entries(rule.limits).map(([name, { standard }]) => [name, standard]),
      );
      const { message, evidence } = rule.evaluate(one.over(noon), limits);
      const said = [
        message!.todo,
        message!.seen,
        message!.why,
        message!.howSure,
        message!.settleBy ?? ['.'],
      ].map((phrase) => inWords(phrase, display));
      for (const text of said) {
        expect(text).not.toMatch(/undefined|NaN|null|Infinity|\[object|°C|\d kg|\d g\b/);
        expect(text).toMatch(/^.*\.$|^.*\?$/s);
      }
      for (const fact of message!.facts) expect(Number.isFinite(fact.value)).toBe(true);
      if (evidence) expect(evidence.fromMs).toBeLessThan(evidence.toMs);
    },
  );
});
