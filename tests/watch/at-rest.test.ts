/** When a replay may leap: nothing that rules tell apart can have come and gone unseen. */
import { describe, expect, it } from 'vitest';
import {
  atRest,
  nextReadingMs,
  restLimits,
  stepsToldMs,
  toldByNight,
  toldByStep,
  toldByWarmth,
  weightIsSteady,
} from '../../server/watch/at-rest.ts';
import { limitsFor, noLimitSettings, type LimitChoices } from '../../server/rules/engine/limits.ts';
import { rules } from '../../server/rules/catalogue/registry.ts';
import type { NucSignals, Series } from '../../server/signals/types.ts';
import { ruleCases } from '../rules/rule-cases.ts';

const minute = 60_000;
/** A reading every five minutes from instant 0 on; NaN is none. */
function every5(...values: readonly number[]): Series {
  const read = values.flatMap((value, i) => (Number.isNaN(value) ? [] : [{ atMs: i * 5 * minute, value }]));
  return {
    atMs: Float64Array.from(read, ({ atMs }) => atMs),
    value: Float64Array.from(read, ({ value }) => value),
  };
}
const none = (count: number): number[] => Array.from({ length: count }, () => NaN);
const half = 30 * minute;

describe('at rest', () => {
  it.each([
    ['a nest that stands still', every5(34.5, 34.6, 34.4, 34.5, 34.6, 34.5, 34.5), true],
    ['its scatter', every5(34.5, 34.7, 34.5, 34.5, 34.3, 34.5, 34.5), true],
    ['a dip far from every limit', every5(34.5, 34.5, 34.0, 34.0, 34.5, 34.5, 34.5), true],
    ['a dip that comes and goes', every5(33.3, 33.3, 32.8, 32.8, 33.3, 33.3, 33.3), false],
    ['the same scatter at a limit', every5(32.2, 32.1, 31.9, 31.9, 32.2, 32.2, 32.2), false],
    ['a slow fall', every5(34.5, 34.4, 34.3, 34.2, 34.1, 34.0, 33.9), true],
    ['a fall by more than a degree', every5(34.3, 34.0, 33.8, 33.6, 33.4, 33.2, 32.9), false],
  ])('%s', (_, broodC, expected) => {
    expect(atRest({ broodC }, 0, half)).toBe(expected);
  });

  it('is a nest that wanders between two edges, or under its limit as long as it is heard', () => {
    const cold = [31.2, 30.4, 31.5, 31.8, 30.1, 30.2, 31.0];
    expect(atRest({ broodC: every5(...cold) }, 0, half)).toBe(true);
    expect(atRest({ broodC: every5(...cold.slice(0, 6), 32.1) }, 0, half)).toBe(false);
    expect(atRest({ broodC: every5(...cold, ...none(6), 31) }, 0, 2 * half)).toBe(false);
    expect(atRest({ broodC: every5(33.1, 33.8, 33.2, 33.7, 33.1, 33.9, 33.3) }, 0, half)).toBe(true);
  });

  it('is no cold that grows stale in a silence, be it of brood or cage, but one that is stale already', () => {
    const cold = every5(34, ...none(6), 31.7, 31.5, ...none(24), 28);
    const lastMs = 40 * minute;
    expect(atRest({ broodC: cold }, lastMs - minute, lastMs + 15 * minute)).toBe(true);
    expect(atRest({ broodC: cold }, lastMs - minute, lastMs + 90 * minute)).toBe(false);
    expect(atRest({ broodC: cold }, lastMs + 61 * minute, lastMs + 90 * minute)).toBe(true);
    expect(atRest({ cageC: every5(14, 14, ...none(24), 14) }, 5 * minute, 60 * minute)).toBe(false);
  });

  it.each([
    ['wind on the scale', every5(9000, 9030, 8970, 9010, 9000, 9020, 9000), true],
    ['a hand on the lid', every5(9000, 9000, 10500, 9000, 9000, 9000, 9000), false],
    ['a frame put in', every5(9000, 9000, 9000, 10800, 10800, 10800, 10800), true],
  ])('%s', (_, weightG, expected) => {
    expect(atRest({ weightG }, 0, half)).toBe(expected);
  });

  it.each([
    ['a scale in the wind is steady', every5(9000, 9030, 8970, 9010, 9000, 9020, 9000), true],
    [
      'a box lifted is not, though one end is as far from the other',
      every5(9000, 9000, 20, 20, 20, 20, 20),
      false,
    ],
    ['nor a box that was put back', every5(9000, 20, 9000, 9000, 9000, 9000, 9000), false],
    ['a scale that says nothing is', undefined, true],
  ])('%s', (_, weightG, expected) => {
    expect(weightIsSteady(weightG ? { weightG } : {}, 0, half)).toBe(expected);
  });

  it('names an hour after the last of a run of jumps as when a step is told at the latest', () => {
    const { rest } = restLimits(() => ({ lossG: 300 }));
    const weightG = every5(9000, 9100, 20, 9000, ...none(20), 9000, ...none(3), 3000, 3000);
    expect(stepsToldMs({ weightG }, rest).map((atMs) => atMs / minute)).toEqual([15 + 60, 140 + 60]);
    expect(stepsToldMs({ weightG: every5(9000, 9400, 8900) }, rest)).toEqual([]);
    expect(stepsToldMs({}, rest)).toEqual([]);
  });

  it('asks every sensor', () => {
    const still = every5(34, 34, 34, 34, 34, 34, 34);
    const dip = every5(20, 20, 15.5, 15.5, 20, 20, 20);
    expect(atRest({ broodC: still, cageC: dip }, 0, half)).toBe(false);
    expect(atRest({}, 0, half)).toBe(true);
  });

  it('goes by the last reading where a sensor is silent, but for an hour after a fall', () => {
    const hours = (h: number): number => h * 60 * minute;
    const falling = Array.from({ length: 19 }, (_, i) => 35 - 0.1 * i);
    const fell = every5(...falling, ...none(40), 33.2);
    const stood = every5(...falling.map((_, i) => 34.4 - 0.1 * (i % 2)), ...none(40), 34.4);
    const lastMs = hours(1.5);
    expect(atRest({ broodC: fell }, lastMs, lastMs + hours(2))).toBe(false);
    expect(atRest({ broodC: fell }, lastMs + minute, lastMs + hours(1))).toBe(false);
    expect(atRest({ broodC: fell }, lastMs + hours(1) + minute, lastMs + hours(3))).toBe(true);
    expect(atRest({ broodC: stood }, lastMs, lastMs + hours(2))).toBe(true);
  });

  it('is a nest that wanders far from its limits, but not one whose fall would be told', () => {
    const wanders = every5(...Array.from({ length: 49 }, (_, i) => 34.5 + 0.3 * Math.sin(i / 8)));
    const cools = every5(
      ...Array.from({ length: 49 }, (_, i) => 34.6 - 1.4 * Math.max(0, 1 - Math.abs(i - 24) / 18)),
    );
    expect(atRest({ broodC: wanders }, 0, 8 * half)).toBe(true);
    expect(atRest({ broodC: cools }, 0, 8 * half)).toBe(false);
  });
});

describe('limits that a keeper set', () => {
  const setOf = (own: Readonly<Record<string, LimitChoices[string]>>) =>
    restLimits((rule) =>
      limitsFor(rule, { kind: 'nuc', id: 'a', name: 'a' }, { ...noLimitSettings, farm: own }),
    );
  const limitsOf = (own: Parameters<typeof setOf>[0]) => setOf(own).rest;
  const dip = every5(34.5, 34.2, 34.3, 34.5, 34.4, 34.5, 34.5);
  it('are what a nest has to keep clear of', () => {
    expect(limitsOf({})).toMatchObject({ nearK: 1, aheadMs: 150 * minute, lossG: 300, staleMs: 60 * minute });
    expect(limitsOf({}).broodEdgesC).toEqual([32, 32.5, 33, 37, 36.5]);
    expect(atRest({ broodC: dip }, 0, half, limitsOf({}))).toBe(true);
    const wide = limitsOf({ 'brood-chilling': { easierK: 2.5 } });
    expect(wide.nearK).toBe(2.5);
    expect(atRest({ broodC: dip }, 0, half, wide)).toBe(false);
  });
  it('count a fall whose ends lie near one another, and in a calm night only one that is close to its limit', () => {
    const slow = every5(...Array.from({ length: 15 }, (_, i) => 33.75 - 0.05 * i), 33.1, 33.1, 33.1);
    const { rest, restInCalm } = setOf({});
    expect(atRest({ broodC: slow }, 30 * minute, 80 * minute, rest)).toBe(false);
    expect(atRest({ broodC: slow }, 30 * minute, 80 * minute, restInCalm)).toBe(true);
    const never = setOf({ 'chilling-ahead': { closeMin: 150 } }).restInCalm;
    expect(atRest({ broodC: slow }, 30 * minute, 80 * minute, never)).toBe(false);
  });
  it('count a fall that comes close to its limit in a silence within the stretch', () => {
    const { restInCalm } = setOf({});
    const falling = Array.from({ length: 19 }, (_, i) => 34.66 - 0.0765 * i);
    const goesOn = every5(...falling, 33.28, 33.28, 33.28, 33.28, 33.28, 33.28, 33.28);
    const silent = every5(...falling, ...none(12), 33.28);
    expect(atRest({ broodC: goesOn }, 60 * minute, 120 * minute, restInCalm)).toBe(true);
    expect(atRest({ broodC: silent }, 60 * minute, 95 * minute, restInCalm)).toBe(false);
  });
  it('make a small loss of weight count', () => {
    const out = every5(9000, 8950, 8900, 8900, 8930, 8980, 9000);
    expect(atRest({ weightG: out }, 0, half, limitsOf({}))).toBe(true);
    expect(atRest({ weightG: out }, 0, half, limitsOf({ 'left-in-a-mass': { lossG: 150 } }))).toBe(false);
  });
});

describe('the next reading', () => {
  it('is that of any sensor, and none after the last', () => {
    const series = { broodC: every5(34, 34), outsideC: every5(10, NaN, NaN, 10) };
    expect(nextReadingMs(series, 0)).toBe(5 * minute);
    expect(nextReadingMs(series, 5 * minute)).toBe(15 * minute);
    expect(nextReadingMs(series, 15 * minute)).toBe(Infinity);
  });
});

describe('rules asked alone', () => {
  /** The rules that read one of these signals, of what a case shows of it. */
  function readersOf(isRead: (path: readonly string[]) => boolean): Set<string> {
    const found = new Set<string>();
    for (const made of ruleCases.flatMap(({ under, at, over, easing }) => [under, at, over, easing])) {
      const input = made?.(Date.UTC(2026, 4, 6, 10));
      if (input?.on !== 'nuc' || !input.signals) continue;
      for (const rule of rules.filter(({ on }) => on === 'nuc')) {
        const watching = (of: object, path: readonly string[]): object =>
          new Proxy(of, {
            get(target, name) {
              const value: unknown = Reflect.get(target, name);
              const here = [...path, String(name)];
              if (isRead(here)) found.add(rule.id);
              return path.length < 1 && typeof value === 'object' && value !== null && !Array.isArray(value)
                ? watching(value, here)
                : value;
            },
          });
        const signals = watching(input.signals, []) as NucSignals;
        rule.evaluate({ ...input, signals }, limitsFor(rule, input.subject, noLimitSettings));
      }
    }
    return found;
  }

  it('by what the probes tell within the hour are all that read it', () => {
    const warm = readersOf(
      ([signal, part]) =>
        signal === 'doses' || (signal === 'brood' && part !== undefined && part !== 'regime'),
    );
    // Both are told by whole days and by the name of the brood.
    expect([...warm].filter((id) => !toldByWarmth.has(id))).toEqual([]);
    expect([...toldByWarmth].filter((id) => !warm.has(id))).toEqual([]);
  });

  it('by the night ahead are all that read it', () => {
    const night = readersOf(([signal, part]) => signal === 'outlook' && part === 'chanceBelow');
    const known = new Set([...toldByNight, ...toldByWarmth]);
    expect([...night].filter((id) => !known.has(id))).toEqual([]);
    expect(toldByNight).toEqual(new Set(['chilling-tonight']));
  });

  it('by steps of weight are all that read them but for what they explain away', () => {
    const steps = readersOf(([signal]) => signal === 'steps');
    // Stores are told by days; a step only says that the scale is not believed meanwhile.
    expect([...steps].filter((id) => !toldByStep.has(id) && id !== 'stores-low')).toEqual([]);
    expect([...toldByStep].filter((id) => !steps.has(id))).toEqual([]);
  });
});
