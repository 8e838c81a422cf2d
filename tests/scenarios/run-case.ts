/** Runs one case of the table and lays what was raised beside what was expected. */
import type { ScenarioOptions } from '../../simulator/index.ts';
import { scenarios } from '../../simulator/scenarios.ts';
import { base, type ScenarioCase } from './expectations.ts';
import { judge } from './judge.ts';
import { silencesOf, type Judged } from './judged.ts';
import { runScenario } from './run-scenario.ts';

export interface CaseResult {
  readonly scenario: string;
  readonly rows: readonly Judged[];
  /** What was merely due, as it came. */
  readonly due: readonly string[];
  /** Messages that were acknowledged, and readings in the store afterwards. */
  readonly published: number;
  readonly stored: number;
  readonly seconds: number;
}

export async function runCase(one: ScenarioCase): Promise<CaseResult> {
  const beganMs = Date.now();
  // What a scenario itself draws is not fixed by the base.
  const { ranges, meanC } = scenarios[one.scenario];
  const kept = Object.entries(base.parameters).filter(([name]) => !Object.hasOwn(ranges, name));
  const { meanC: baseMeanC, ...others } = base;
  const options: ScenarioOptions = {
    ...others,
    ...(meanC ? {} : { meanC: baseMeanC }),
    ...one.options,
    seed: one.seed,
    scenario: one.scenario,
    days: one.days,
    parameters: { ...Object.fromEntries(kept), ...one.options?.parameters },
  };
  const { nuc, raised, published, stored } = await runScenario(options);
  const { rows, due } = judge(one, { ...nuc, silences: silencesOf(nuc) }, raised);
  return { scenario: one.scenario, rows, due, published, stored, seconds: (Date.now() - beganMs) / 1000 };
}
