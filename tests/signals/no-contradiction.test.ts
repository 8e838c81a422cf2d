/**
 * No two statements about one quantity of one nuc disagree, at any instant of any scenario; and of a sensor that is silent, or
 * sends what it can't have measured, nothing is said but that.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { scenarioNames } from '../../simulator/scenarios.ts';
import { gateEvidence } from '../../server/watch/gate-evidence.ts';
import { newAnalysisCache, analyseNuc } from '../../server/signals/analyse.ts';
import { replay } from '../../server/rules/engine/replay.ts';
import { rules as allRules } from '../../server/rules/catalogue/registry.ts';
import type { Estimate, NucSeries, NucSignals, Series } from '../../server/signals/types.ts';
import { nucInput, stage } from '../rules/made-up.ts';
import { dayMs, simulatedCase, type SimulatedCase } from './simulated.ts';

const hourMs = 3_600_000;
const days = 8;
const rules = allRules.filter(({ on }) => on === 'nuc');
const ofBrood = [
  ...['brood-chilling', 'chilling-ahead', 'chilling-tonight', 'probe-or-nest', 'brood-too-hot'],
  ...['too-weak-to-keep-warm', 'colony-failing'],
];
const ofCage = ['cage-too-cold', 'cage-too-hot'];
const ofScale = ['stores-low', 'being-robbed', 'left-in-a-mass', 'box-gone', 'box-toppled', 'box-lifted'];

type Place = 'broodC' | 'cageC' | 'weightG' | 'outsideC';
const places: readonly Place[] = ['broodC', 'cageC', 'weightG', 'outsideC'];

const instants = fc.record({
  scenario: fc.constantFrom(...scenarioNames),
  seed: fc.integer({ min: 1, max: 100_000 }),
  share: fc.integer({ min: 0, max: 999 }),
});
const faults = fc.record({
  place: fc.constantFrom(...places),
  /** How long it has been so. */
  hours: fc.constantFrom(4, 13, 30, 60),
  how: fc.constantFrom('silent', 'no-value'),
});
type Drawn = Parameters<Parameters<typeof instants.map>[0]>[0];
type Fault = Parameters<Parameters<typeof faults.map>[0]>[0];

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

interface Known {
  readonly signals: NucSignals;
  readonly nowMs: number;
  readonly said: readonly string[];
  readonly case: SimulatedCase;
}

function knownAt({ scenario, seed, share }: Drawn, fault?: Fault): Known {
  const made = simulatedCase({ seed, setting: 'usual', days, scenario });
  const { nuc, input } = made;
  const nowMs = nuc.splitMs + dayMs + Math.round(((share / 1000) * (days - 1) * dayMs) / 60_000) * 60_000;
  const events = input.events.filter(({ atMs }) => atMs <= nowMs);
  const series: NucSeries = fault
    ? {
        ...input.series,
        [fault.place]: faulty(input.series[fault.place] as Series, fault, nowMs - fault.hours * hourMs),
      }
    : input.series;
  const cage = { fromMs: nuc.splitMs, toMs: nuc.splitMs + days * dayMs };
  const signals = analyseNuc({ ...input, series, events, queenInCage: cage }, nowMs, newAnalysisCache());
  const introduction = stage({ splitAtMs: nuc.splitMs, queenCagedSinceMs: nuc.splitMs });
  const inputs = [nucInput({ nowMs, signals, introduction, timeZone: nuc.place.timeZone })];
  // What a rule says at that instant, whatever its hold.
  const farm = Object.fromEntries(rules.map(({ id }) => [id, { holdMin: 0 }]));
  const limits = { sites: {}, nucs: {}, farm };
  const span = { fromMs: nowMs, toMs: nowMs, stepMs: 60_000 };
  const { raisings } = replay({ ...span, rules, limits, inputsAt: () => inputs });
  return { signals, nowMs, said: raisings.map(({ ruleId }) => ruleId), case: made };
}

const estimatesOf = (signals: NucSignals): Record<string, Estimate> => {
  const { brood, outlook, drift, population } = signals;
  return {
    level: brood.levelC,
    spread: brood.spreadC,
    inBand: brood.shareInBand,
    tonight: outlook.tonightMinC,
    toLimit: outlook.minutesToLimit,
    stores: signals.stores,
    storesG: signals.storesG,
    use: signals.consumptionGPerDay,
    lostG: drift.massG,
    lostBees: drift.bees,
    share: drift.completeness,
    bees: population.bees,
  };
};

function expectOneWarmth({ signals, said }: Known): void {
  const { brood, outlook, probePlace, failing, regulation } = signals;
  const latestC = brood.latestC as number;
  // The lowest of tonight is no warmer than now, give or take what ten minutes of readings scatter.
  if (outlook.tonightMinC.ok) expect(outlook.tonightMinC.value).toBeLessThan(latestC + 2);
  if (latestC < outlook.limitC - 1 && outlook.chanceBelow !== null) expect(outlook.chanceBelow).toBe(1);
  const coldNow = signals.doses.filter((dose) => dose.what !== 'caged-queen' && dose.direction === 'cold');
  for (const dose of coldNow) {
    expect(dose.nowC).toBeCloseTo(latestC, 6);
    expect(dose.beyondNow).toBe(latestC < dose.limitC);
  }
  if (said.includes('brood-chilling')) expect(latestC).toBeLessThan(outlook.limitC);
  if (said.includes('chilling-ahead') || said.includes('chilling-tonight'))
    expect(latestC).toBeGreaterThanOrEqual(outlook.limitC);
  const thermal = ['brood-chilling', 'chilling-ahead', 'probe-or-nest', 'brood-too-hot'];
  const about = said.filter((id) => thermal.includes(id));
  expect(about.length, about.join()).toBeLessThanOrEqual(1);
  // Of a probe that may lie elsewhere nothing is said of the brood's cold.
  if (said.includes('probe-or-nest'))
    expect(said.filter((id) => ofBrood.includes(id) && id !== 'colony-failing')).toEqual(['probe-or-nest']);
  if (probePlace.state === 'slipped') expect(failing.state).not.toBe('failing');
  if (failing.state === 'failing') expect(regulation.state).not.toBe('agreeing');
  expect(said.includes('colony-failing')).toBe(failing.state === 'failing');
}

function expectOneWeight({ signals, said, case: { input } }: Known): void {
  const { drift, population, stores, storesG, steps, massDepartures } = signals;
  // Bees in one line and bees in another.
  if (population.bees.ok && drift.bees.ok && input.framesOfBees !== undefined)
    expect(population.bees.value + drift.bees.value).toBeLessThanOrEqual(input.framesOfBees * 2500);
  if (drift.bees.ok) expect(drift.massG.ok).toBe(true);
  if (stores.ok) expect(storesG.ok).toBe(true);
  if (said.includes('stores-low')) expect(stores.ok || storesG.ok).toBe(true);
  // What a hand took no bee took, and the other way round.
  for (const left of massDepartures)
    expect(steps.filter((s) => s.atMs >= left.fromMs && s.atMs <= left.toMs && s.sizeG < 0)).toEqual([]);
}

function expectSameAtTheGate({ signals }: Known): void {
  const { outlook, foragersGone, robbing } = gateEvidence(signals, null);
  const { tonightMinC } = signals.outlook;
  expect(outlook?.tooCold === 'unknown').toBe(!tonightMinC.ok);
  expect(foragersGone.answer === 'yes').toBe(signals.drift.state === 'gone');
  expect(robbing !== undefined).toBe(signals.robbing.underWay);
}

describe('at any instant of any scenario', () => {
  it('statements about warmth, weight and bees agree, and lie in their own intervals', () => {
    fc.assert(
      fc.property(instants, (drawn) => {
        const known = knownAt(drawn);
        for (const [name, estimate] of Object.entries(estimatesOf(known.signals))) {
          if (!estimate.ok) continue;
          expect(Number.isFinite(estimate.value), name).toBe(true);
          expect(estimate.low, name).toBeLessThanOrEqual(estimate.value);
          expect(estimate.high, name).toBeGreaterThanOrEqual(estimate.value);
        }
        const { latestAtMs } = known.signals.brood;
        if (latestAtMs !== null && known.nowMs - latestAtMs <= hourMs) expectOneWarmth(known);
        else expect(known.said.filter((id) => ofBrood.includes(id))).toEqual([]);
        expectOneWeight(known);
        expectSameAtTheGate(known);
      }),
      { numRuns: 40 },
    );
  }, 240_000);

  it('a sensor that is silent or without a value gives no figure and no finding', () => {
    fc.assert(
      fc.property(instants, faults, (drawn, fault) => {
        const { signals, said } = knownAt(drawn, fault);
        const { brood, outlook, failing, probePlace } = signals;
        if (fault.place === 'broodC') {
          expect([brood.levelC.ok, brood.spreadC.ok, brood.shareInBand.ok]).toEqual([false, false, false]);
          expect([outlook.tonightMinC.ok, outlook.minutesToLimit.ok, outlook.chanceBelow]).toEqual([
            ...[false, false],
            null,
          ]);
          expect([failing.state, probePlace.state]).toEqual(['cannot-tell', 'cannot-tell']);
          for (const dose of signals.doses)
            if (dose.what !== 'caged-queen') expect([dose.nowC, dose.beyondNow]).toEqual([null, false]);
          expect(said.filter((id) => ofBrood.includes(id))).toEqual([]);
        }
        if (fault.place === 'cageC') expect(said.filter((id) => ofCage.includes(id))).toEqual([]);
        if (fault.place === 'weightG' && fault.hours > 48) {
          expect([signals.stores.ok, signals.storesG.ok, signals.consumptionGPerDay.ok]).toEqual([
            ...[false, false, false],
          ]);
          expect(signals.robbing.underWay).toBe(false);
          expect(said.filter((id) => ofScale.includes(id))).toEqual([]);
        }
        if (fault.place === 'outsideC') expect(outlook.forecast).not.toBe('persistence');
      }),
      { numRuns: 40 },
    );
  }, 240_000);
});
