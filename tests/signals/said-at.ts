/** A simulated nuc at one instant of one scenario, whole or with a sensor that fails: its signals and what the rules would raise. */
import fc from 'fast-check';
import { scenarioNames } from '../../simulator/scenarios.ts';
import { newAnalysisCache, analyseNuc } from '../../server/signals/analyse.ts';
import { replay } from '../../server/rules/engine/replay.ts';
import { rules as allRules } from '../../server/rules/catalogue/registry.ts';
import type { AnalysisCache } from '../../server/signals/analysis-cache.ts';
import type { NucSeries, NucSignals, Series } from '../../server/signals/types.ts';
import { nucInput, stage } from '../rules/made-up.ts';
import { saidBy, type Said } from './contradictions.ts';
import { dayMs, simulatedCase, type SimulatedCase } from './simulated.ts';

const hourMs = 3_600_000;
const days = 8;
const rules = allRules.filter(({ on }) => on === 'nuc');
type Place = 'broodC' | 'cageC' | 'weightG' | 'outsideC';
const places: readonly Place[] = ['broodC', 'cageC', 'weightG', 'outsideC'];

export const instants = fc.record({
  scenario: fc.constantFrom(...scenarioNames),
  seed: fc.integer({ min: 1, max: 100_000 }),
  share: fc.integer({ min: 0, max: 999 }),
});
export const faults = fc.record({
  place: fc.constantFrom(...places),
  /** How long it has been so. */
  hours: fc.constantFrom(4, 13, 30, 60),
  how: fc.constantFrom('silent', 'no-value'),
});
export type Drawn = Parameters<Parameters<typeof instants.map>[0]>[0];
export type Fault = Parameters<Parameters<typeof faults.map>[0]>[0];

/** −127 °C is what a common probe sends when it has measured nothing; a scale has no such value. */
function faulty({ atMs, value }: Series, { place, how }: Fault, sinceMs: number): Series {
  if (how === 'no-value' && place !== 'weightG')
    return { atMs, value: value.map((v, i) => ((atMs[i] as number) < sinceMs ? v : -127)) };
  const n = atMs.findIndex((at) => at >= sinceMs);
  return {
    atMs: atMs.subarray(0, n < 0 ? atMs.length : n),
    value: value.subarray(0, n < 0 ? value.length : n),
  };
}

export interface Instant {
  readonly made: SimulatedCase;
  readonly nowMs: number;
  readonly cache?: AnalysisCache;
}

/** What is said at `nowMs`; what a rule would raise, whatever its hold. */
function saidAt({ made, nowMs, cache }: Instant, fault?: Fault): Said {
  const { nuc, input } = made;
  const events = input.events.filter(({ atMs }) => atMs <= nowMs);
  const series: NucSeries = fault
    ? {
        ...input.series,
        [fault.place]: faulty(input.series[fault.place] as Series, fault, nowMs - fault.hours * hourMs),
      }
    : input.series;
  const signals: NucSignals = analyseNuc(
    { ...input, series, events, queenInCage: true },
    nowMs,
    cache ?? newAnalysisCache(),
  );
  const introduction = stage({ splitAtMs: nuc.splitMs, queenCagedSinceMs: nuc.splitMs });
  const inputs = [nucInput({ nowMs, signals, introduction, timeZone: nuc.place.timeZone })];
  const farm = Object.fromEntries(rules.map(({ id }) => [id, { holdMin: 0 }]));
  const limits = { sites: {}, nucs: {}, farm };
  const span = { fromMs: nowMs, toMs: nowMs, stepMs: 60_000 };
  const { raisings } = replay({ ...span, rules, limits, inputsAt: () => inputs });
  const raised = raisings.map(({ ruleId }) => ruleId);
  const { framesOfBees } = input;
  return { signals, nowMs, raised, ...(framesOfBees !== undefined && { framesOfBees }), ...saidBy(signals) };
}

export function saidOf({ scenario, seed, share }: Drawn, fault?: Fault): Said {
  const made = simulatedCase({ seed, setting: 'usual', days, scenario });
  const nowMs =
    made.nuc.splitMs + dayMs + Math.round(((share / 1000) * (days - 1) * dayMs) / 60_000) * 60_000;
  return saidAt({ made, nowMs }, fault);
}

/** One scenario and seed, every so many hours from its second day on. */
export function* overTime(scenario: Drawn['scenario'], seed: number, everyHours: number): Generator<Said> {
  const made = simulatedCase({ seed, setting: 'usual', days, scenario });
  const cache = newAnalysisCache();
  for (let hour = 24; hour < days * 24; hour += everyHours)
    yield saidAt({ made, nowMs: made.nuc.splitMs + hour * hourMs, cache });
}
