import { describe, expect, it } from 'vitest';
import { analyseNuc, newAnalysisCache, type AnalysisInput } from '../../server/signals/analyse.ts';
import { made, midnight, outsideC, ripple } from './made.ts';
import { dayMs, simulatedCase } from './simulated.ts';

const place = { latDeg: 50, lonDeg: 10, timeZone: 'Europe/Berlin' };
const now = Date.UTC(2025, 5, 10, 12);

describe('analyseNuc', () => {
  it('declines everything, with reasons, where no sensor is assigned', () => {
    const signals = analyseNuc({ series: {}, place, events: [], broodRegime: () => 'unknown' }, now);
    expect(signals.drift.state).toBe('cannot-tell');
    for (const estimate of [
      signals.stores,
      signals.brood.levelC,
      signals.outlook.tonightMinC,
      signals.scaleTemperature,
    ]) {
      expect(estimate).toMatchObject({ ok: false, why: expect.stringMatching(/\w+ \w+/) as string });
    }
    expect(signals.doses).toEqual([]);
    expect(signals.failing.state).toBe('cannot-tell');
  });

  it('tells stores from a scale every half hour or hour; one that tells its weight every two hours tells it too seldom', () => {
    const endMs = midnight + 4.5 * dayMs;
    const storesEvery = (everyMin: number) => {
      const weightG = made(midnight, endMs, (h) => 15_000 - 5 * h + ripple(h, 5), everyMin);
      const input = { series: { weightG }, place, events: [], emptyBoxG: 8000, broodRegime: () => 'unknown' };
      return analyseNuc(input as AnalysisInput, endMs);
    };
    for (const everyMin of [15, 30, 60]) {
      const { consumptionGPerDay, storesG } = storesEvery(everyMin);
      if (!consumptionGPerDay.ok || !storesG.ok) throw new Error(`declined at ${String(everyMin)} minutes`);
      expect(Math.abs(consumptionGPerDay.value - 120)).toBeLessThan(25);
    }
    for (const estimate of [storesEvery(120).storesG, storesEvery(120).stores])
      expect(estimate).toMatchObject({ ok: false, why: expect.stringContaining('too seldom') as string });
  });

  // Offsets of the tz database that are no multiple of ten minutes.
  it.each(['Asia/Kathmandu', 'Pacific/Chatham', 'Australia/Eucla'])(
    'reads the nights of %s, whose midnight parts a ten-minute bin, as those of other zones',
    (timeZone) => {
      const endMs = midnight + 6.7 * dayMs;
      const hour = (h: number): number => h + 22 + 5.7;
      const series = {
        outsideC: made(midnight, endMs, (h) => outsideC(hour(h), 10) + ripple(h, 0.1)),
        broodC: made(midnight, endMs, (h) => 34 + (outsideC(hour(h), 0, 0.6) + ripple(h, 0.05))),
      };
      const outlookIn = (zone: string) => {
        const at = { latDeg: 27.7, lonDeg: 85.3, timeZone: zone };
        const input: AnalysisInput = { series, place: at, events: [], broodRegime: () => 'open-brood' };
        return analyseNuc(input, endMs).outlook;
      };
      const { tonightMinC, basis } = outlookIn(timeZone);
      const elsewhere = outlookIn('Asia/Kolkata').tonightMinC;
      if (!tonightMinC.ok || !elsewhere.ok) throw new Error('declined');
      expect(basis).toBe('own-record');
      expect(tonightMinC.value).toBeCloseTo(elsewhere.value, 6);
    },
  );

  it('finds the foragers of a clean split gone after five days, and says how many', () => {
    const { nuc, input } = simulatedCase({ seed: 1, days: 6 });
    const { drift } = analyseNuc(input, nuc.splitMs + 5 * dayMs);
    expect(drift.state).toBe('gone');
    if (!drift.massG.ok) throw new Error(JSON.stringify(drift.massG.why));
    const truth = nuc.truth.driftedMassG[5 * 1440] as number;
    expect(drift.massG.low).toBeLessThan(truth);
    expect(drift.massG.high).toBeGreaterThan(truth);
  });

  it.each([1, 2, 3])(
    'tells the stores beside the bees that were counted: a split as keepers make it, seed %i',
    (seed) => {
      const { nuc, input } = simulatedCase({ seed, setting: 'practice', days: 12 });
      const { storesG } = analyseNuc({ ...input, emptyBoxG: nuc.parameters.tareG }, nuc.splitMs + 11 * dayMs);
      if (!storesG.ok) throw new Error('declined');
      const truth = nuc.truth.storesG[11 * 1440] as number;
      expect(storesG.low).toBeLessThan(truth);
      expect(storesG.high).toBeGreaterThan(truth);
    },
  );

  it('gives the same with a cache that saw the readings arrive as without one', () => {
    const { nuc, input } = simulatedCase({ seed: 2, days: 6 });
    const cache = newAnalysisCache();
    for (let hour = 12; hour < 120; hour += 12) analyseNuc(input, nuc.splitMs + hour * 3_600_000, cache);
    const at = nuc.splitMs + 5 * dayMs;
    expect(analyseNuc(input, at, cache)).toEqual(analyseNuc(input, at));
  });
});
