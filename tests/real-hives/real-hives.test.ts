/** A small seeded part of `npm run real-hives`, on made hives, for where the open series are absent. */
import { describe, expect, it } from 'vitest';
import { secondNest } from '../levels/second-nest.ts';
import { secondWorld } from '../levels/second-generator.ts';
import { lagged } from '../../server/signals/bins.ts';
import { sized } from '../support/size.ts';
import { countAlerts, failingFound } from './alert-counts.ts';
import { foundOn, sumOf } from './handlings.ts';
import { loggedAlerts, starts } from './logged.ts';
import { watch, type WatchedHive } from './watched-hive.ts';

const minuteMs = 60_000;
const dayMs = 24 * 60 * minuteMs;
const days = 12;
const stepMs = 30 * minuteMs;

/** A well nest by other equations than the simulator's; with `failsOnDay` its bees dwindle from then on. */
function madeHive(seed: number, failsOnDay?: number, forDays = days): WatchedHive {
  const world = secondWorld(seed, { days: forDays, weather: 'ordinary' });
  const { readC } = secondNest(seed, world.outsideC, 5, { bees: [5000, 8000] });
  const outsideC = { atMs: world.atMs, value: world.outsideC };
  const failsFromMs = failsOnDay === undefined ? Infinity : world.movedAtMs + failsOnDay * dayMs;
  const boxC = lagged(outsideC, 2 * 60 * minuteMs).value;
  const broodC = readC.map((tempC, i) => {
    const left = Math.exp(-Math.max(0, (world.atMs[i] as number) - failsFromMs) / dayMs);
    const box = boxC[i] as number;
    return box + left * (tempC - box);
  });
  return {
    name: `made ${String(seed)}`,
    place: { latDeg: world.latDeg, lonDeg: world.lonDeg, timeZone: 'Europe/Berlin' },
    series: { broodC: { atMs: world.atMs, value: broodC }, outsideC },
    visits: [],
    ...(failsOnDay === undefined ? {} : { failsFromMs }),
  };
}

describe('made hives', () => {
  it('well ones raise nothing; beside it, a fixed limit does not either', () => {
    const all = [501, 502].slice(0, sized(1, 2)).map((seed) => watch(madeHive(seed), { stepMs }));
    for (const log of ['plain', 'at-stake'] as const) expect(countAlerts(all, log).raised).toEqual([]);
    expect(countAlerts(all, 'plain').fixedPerMonth).toBe(0);
    expect(countAlerts(all, 'plain').months).toBeCloseTo((all.length * (days - 1)) / 30.44, 1);
  }, 60_000);

  it.each([
    ['every 5 minutes', {}],
    ['every 30 minutes', { everyMs: 30 * minuteMs }],
    ['without outside', { withoutOutside: true }],
  ])(
    'a failing one is found within three days, once, %s',
    (_, options) => {
      const all = [watch(madeHive(503, 6), { stepMs, ...options })];
      expect(failingFound(all, 'at-stake')).toMatchObject([{ hive: 'made 503', met: true, timesFound: 1 }]);
      // Without an hour under its limit there is nothing to count.
      expect(countAlerts(all, 'plain').fixedPerMonth).toBeGreaterThan(0);
    },
    60_000,
  );

  it('a failing one that is well is not found', () => {
    const hive = { ...madeHive(504), failsFromMs: 0 };
    expect(failingFound([watch(hive, { stepMs })], 'at-stake')).toMatchObject([{ met: false, day: null }]);
  }, 60_000);
});

describe('a whole introduction laid on a made hive', () => {
  it('tells nothing of a nest that is well, and of one that gives way', () => {
    const well = madeHive(505, undefined, 24);
    const [movedAtMs = 0, ...others] = starts(well);
    expect(others).toEqual([]);
    expect(loggedAlerts(well, movedAtMs)).toEqual([]);
    const told = loggedAlerts(madeHive(505, 12, 24), movedAtMs);
    expect(told.map(({ ruleId }) => ruleId)).toContain('colony-failing');
    expect(told.every(({ day }) => day > 9)).toBe(true);
  }, 60_000);
});

describe('handlings laid into a made scale', () => {
  it('are found, and none is made up', () => {
    const all = Array.from({ length: 20 }, (_, seed) => {
      const { atMs, weightG } = secondWorld(600 + seed, { days: 1 });
      return foundOn({ atMs, value: weightG }, seed, 5 * minuteMs);
    });
    const { long, longFound, made } = sumOf(all);
    expect(long).toBe(40);
    expect(longFound).toBeGreaterThanOrEqual(39);
    expect(made).toBe(0);
  }, 60_000);
});
