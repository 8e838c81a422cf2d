/** Splits as keepers make them, and what can be switched on beside a scenario. */
import { describe, expect, it } from 'vitest';
import { simulateNuc } from '../../simulator/index.ts';
import { balanceG } from '../../simulator/colony/ledger.ts';
import { practiceRanges } from '../../simulator/parameters.ts';
import { sized } from '../support/size.ts';

const hourMs = 3_600_000;
const splitMs = Date.UTC(2025, 4, 20, 9);
const warm = {
  splitMs,
  meanC: 18,
  parameters: { showersPerDay: 0, nectarDaySpread: 0, nectarFlow: 0 },
} as const;

describe('practice size', () => {
  it('stays within its ranges and loses 150-750 g of foragers', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const { parameters, truth } = simulateNuc({ seed, setting: 'practice', days: 0.1 });
      for (const [name, [low, high]] of Object.entries(practiceRanges)) {
        expect(parameters[name as keyof typeof parameters]).toBeGreaterThanOrEqual(low);
        expect(parameters[name as keyof typeof parameters]).toBeLessThanOrEqual(high);
      }
      expect(truth.willDriftMassG).toBeGreaterThan(150);
      expect(truth.willDriftMassG).toBeLessThan(750);
    }
  });

  it('brings in nectar that differs by 10-25 g from day to day once new foragers fly', () => {
    const spreads = Array.from({ length: sized(5, 12) }, (_, k) => {
      const nuc = (days: number) =>
        simulateNuc({ seed: 50 + k, setting: 'practice', days, splitMs, meanC: 17 }).truth.ledger.nectarInG;
      const ends = [4, 5, 6, 7, 8, 9].map(nuc);
      const daily = ends.slice(1).map((g, i) => g - (ends[i] as number));
      const mean = daily.reduce((a, b) => a + b, 0) / daily.length;
      return Math.sqrt(daily.reduce((sum, g) => sum + (g - mean) ** 2, 0) / (daily.length - 1));
    }).sort((a, b) => a - b);
    const middle = spreads[spreads.length >> 1] as number;
    expect(middle).toBeGreaterThan(10);
    expect(middle).toBeLessThan(25);
  });
});

describe('flight laws', () => {
  const hours = (parameters: object) =>
    simulateNuc({ seed: 3, days: 3, splitMs, meanC: 13, parameters }).truth.flightHours.at(-1) as number;
  it('an early law flies more than the usual, a late one less, and the sun warms the entrance', () => {
    const usual = hours({ flightThresholdC: 12, flightFullC: 20 });
    expect(hours({ flightThresholdC: 10, flightFullC: 16 })).toBeGreaterThan(1.3 * usual);
    expect(hours({ flightThresholdC: 14, flightFullC: 21 })).toBeLessThan(0.8 * usual);
    expect(hours({ flightThresholdC: 12, flightFullC: 20, flightSunKPerWm2: 0.004 })).toBeGreaterThan(usual);
  });
});

describe('happenings beside a scenario', () => {
  const syrup = {
    kind: 'load-changed',
    atMs: splitMs + 8 * hourMs,
    netG: 1000,
    feed: true,
    waterShare: 0.5,
  } as const;
  it('syrup dries by more than candy does, by half its weight in the end', () => {
    const lost = (waterShare: number) => {
      const { truth } = simulateNuc({ ...warm, seed: 4, days: 6, happenings: [{ ...syrup, waterShare }] });
      return truth.ledger.evaporatedG;
    };
    expect(lost(0)).toBe(0);
    expect(lost(0.5)).toBeGreaterThan(480);
    expect(lost(0.5)).toBeLessThan(500.001);
  });
  it('strangers come in by flight and add their mass; every gram is accounted for', () => {
    const strangers = {
      kind: 'drifted-in',
      atMs: splitMs + 20 * hourMs,
      untilMs: splitMs + 70 * hourMs,
      beesPerFlightHour: 150,
    } as const;
    const robbers = {
      kind: 'robbed',
      atMs: splitMs + 50 * hourMs,
      untilMs: splitMs + 90 * hourMs,
      gPerHour: 80,
    } as const;
    const { truth } = simulateNuc({
      seed: 4,
      setting: 'practice',
      days: 6,
      splitMs,
      happenings: [syrup, strangers, robbers],
    });
    const last = truth.minutes - 1;
    const endG = truth.boxMassG[last]! + truth.beesOut[last]! * truth.bodyG;
    expect(endG - truth.atSplit.boxG).toBeCloseTo(balanceG(truth.ledger), 3);
    expect(truth.ledger.driftedInG).toBeGreaterThan(50);
    expect(truth.ledger.robbedG).toBeGreaterThan(100);
    expect(truth.events.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['added', 'drifted-in', 'robbed']),
    );
  });
  it('a place without a sensor tells nothing, and changes nothing else', () => {
    const all = simulateNuc({ seed: 4, days: 1 }).readings;
    const some = simulateNuc({ seed: 4, days: 1, without: ['outside', 'rain'] }).readings;
    expect([some.outside.value.length, some.rain.value.length]).toEqual([0, 0]);
    expect(some.scale).toEqual(all.scale);
  });
});
