/** A nuc whose honey is carried off within hours is told the same afternoon, and nothing else looks like it. */
import { describe, expect, it } from 'vitest';
import { analyseNuc, newAnalysisCache, type AnalysisInput } from '../../server/signals/analyse.ts';
import { isSure } from '../../server/signals/weight/mass-departure.ts';
import type { NucSignals } from '../../server/signals/types.ts';
import { inputOf } from '../levels/drift-truths.ts';
import { secondWorld } from '../levels/second-generator.ts';
import { sized } from '../support/size.ts';
import { hourMs, minuteMs, ripple } from './made.ts';

const seeds = [1, 2, 3, 4].slice(0, sized(2, 4));

/** A nuc of the second generator on its seventh day: so many grams less so many hours after one o'clock in the sun's time. */
function nucThatLoses(
  seed: number,
  lostG: (hours: number) => number,
  everyMin = 5,
  brood = (h: number) => 34.6 - 0 * h,
) {
  const world = secondWorld(seed, { days: 8.5, frames: [3, 5], share: [0.2, 0.4] });
  const dayMs = 24 * hourMs;
  const beganMs =
    Math.floor((world.movedAtMs + 6 * dayMs) / dayMs) * dayMs + (13 - world.lonDeg / 15) * hourMs;
  const hours = (i: number): number => ((world.atMs[i] as number) - beganMs) / hourMs;
  const shown = world.weightG.map((g, i) => (hours(i) < 0 ? g : g - lostG(hours(i))));
  const { series, ...more } = inputOf(world, undefined, shown);
  const kept = Array.from(world.atMs.keys()).filter((i) => i % (everyMin / 5) === 0);
  const thin = (of: (i: number) => number) => ({
    atMs: Float64Array.from(kept, (i) => world.atMs[i] as number),
    value: Float64Array.from(kept, of),
  });
  const input: AnalysisInput = {
    ...more,
    series: {
      ...series,
      weightG: thin((i) => shown[i] as number),
      broodC: thin((i) => brood(hours(i)) + ripple(hours(i), 0.05)),
    },
  };
  return { input, beganMs };
}

/** What is said each quarter of an hour from then on, for so many hours. */
function saidFrom({ input, beganMs }: ReturnType<typeof nucThatLoses>, hours: number): NucSignals[] {
  const cache = newAnalysisCache();
  return Array.from({ length: hours * 4 }, (_, k) => analyseNuc(input, beganMs + k * 15 * minuteMs, cache));
}
const going =
  (gPerH: number, hours: number, swingG = 0) =>
  (h: number) =>
    gPerH * Math.min(hours, h) - (h < hours ? ripple(h, swingG) : 0);

describe('a nuc that is robbed', () => {
  it.each([
    [300, 4, 0],
    [700, 4, 60],
    [1500, 3, 100],
    [3000, 2, 150],
  ])(
    'of %i g an hour for %i hours is told within four hours, and as nothing else',
    (gPerH, hours, swingG) => {
      for (const seed of seeds) {
        const said = saidFrom(nucThatLoses(seed, going(gPerH, hours, swingG)), 8);
        const first = said.find(({ robbing }) => robbing.underWay);
        expect(first?.robbing, `seed ${String(seed)}`).toMatchObject({ carriedOff: true });
        expect(said.indexOf(first as NucSignals) / 4).toBeLessThanOrEqual(4);
        const left = said.filter(({ massDepartures, nowMs }) =>
          massDepartures.some((one) => isSure(one, nowMs)),
        );
        expect(left, `seed ${String(seed)}`).toEqual([]);
      }
    },
  );
  it.each([10, 15, 30, 60])('is told by a scale that reads every %i minutes', (everyMin) => {
    const said = saidFrom(nucThatLoses(1, going(700, 4), everyMin), 6);
    expect(said.some(({ robbing }) => robbing.underWay)).toBe(true);
  });
  it('is told until the next day is over, which is when robbers come again', () => {
    const said = saidFrom(nucThatLoses(2, going(700, 4)), 24);
    expect(said.at(-1)?.robbing).toMatchObject({ underWay: true, carriedOff: true });
  });
});

describe('what is not told as robbing', () => {
  const neverRobbed = (lostG: (h: number) => number, everyMin?: number, brood?: (h: number) => number) => {
    for (const seed of seeds)
      for (const { robbing, nowMs } of saidFrom(nucThatLoses(seed, lostG, everyMin, brood), 10))
        expect(robbing.underWay, `seed ${String(seed)}, ${new Date(nowMs).toISOString()}`).toBe(false);
  };
  it('an ordinary afternoon', () => {
    neverRobbed(() => 0);
  });
  it.each([5, 30, 60])('a colony that leaves within an hour, a reading in %i minutes', (everyMin) => {
    neverRobbed(going(1500, 0.6), everyMin, (h) => (h < 0 ? 34.6 : 34.6 - Math.min(8, h)));
  });
  it('a comb that somebody takes out', () => {
    neverRobbed(() => 1800);
  });
  it('syrup that dries off', () => {
    neverRobbed((h) => 40 * h);
  });
});
