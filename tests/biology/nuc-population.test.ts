import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { broodShareOfFrame, cellsPerFrame, houseBeeDeathPerDay } from '../../server/biology/figures.ts';
import { framesCovered, projectNuc } from '../../server/biology/nuc-population.ts';

const split = { framesOfBees: 3, framesOfSealedBrood: 2, framesOfOpenBrood: 1 };
const on = (day: number, more: Partial<Parameters<typeof projectNuc>[0]> = {}) =>
  projectNuc({ ...split, ...more }, 60).days[day]!;

describe('the bees of a nuc by day', () => {
  it('begin with the frames of the split, covered on both sides (Burgett and Burikam 1985: 1,900 a deep comb)', () => {
    expect(on(0).bees).toBe(3 * 1900);
    expect(framesCovered(5700)).toBe(3);
  });

  it('lose what the scale saw flying home', () => {
    const bare = { framesOfSealedBrood: 0, framesOfOpenBrood: 0 };
    const kept = on(10, { ...bare, foragersGone: { bees: 0, low: 0, high: 0 } }).bees;
    const lost = on(10, { ...bare, foragersGone: { bees: 1000, low: 800, high: 1200 } }).bees;
    // A thousand fewer, and those no longer die of age: 0.98^10 of them.
    expect(kept - lost).toBeGreaterThan(1000 * 0.98 ** 10 - 5);
    expect(kept - lost).toBeLessThan(1000);
  });

  it('gain from sealed brood until day 11, from open brood until day 20, then from nothing', () => {
    const change = (day: number) => on(day + 1).bees - on(day).bees;
    expect(change(8)).toBeGreaterThan(200);
    expect(change(16)).toBeGreaterThan(0);
    expect(change(25)).toBeLessThan(0);
  });

  it('gain 85.1 of 86.4 sealed cells, 85.1 of 100 eggs to 94.2 larvae, by day 20 (Fukuda and Sakagami 1968)', () => {
    const none = { framesOfBees: 0, framesOfSealedBrood: 0, framesOfOpenBrood: 0 };
    const young = (brood: Partial<typeof none>): number => {
      const { days } = projectNuc({ ...none, ...brood }, 30);
      // Deaths of two in a hundred a day are put back.
      return days
        .slice(1)
        .reduce((sum, { bees }, i) => sum + bees - (days[i]?.bees ?? 0) * (1 - houseBeeDeathPerDay.value), 0);
    };
    const cells = cellsPerFrame.value * broodShareOfFrame.value;
    expect(young({ framesOfSealedBrood: 1 }) / cells).toBeCloseTo(85.1 / 86.4, 2);
    const open = young({ framesOfOpenBrood: 1 }) / cells;
    expect(open).toBeGreaterThan(85.1 / 100);
    expect(open).toBeLessThan(85.1 / 94.2);
    const { days } = projectNuc({ ...none, framesOfOpenBrood: 1 }, 30);
    expect(days.findIndex(({ bees }) => bees === Math.max(...days.map((one) => one.bees)))).toBe(20);
  });

  it('have their trough just before the new queen’s young emerge, 20 days after her first eggs', () => {
    const { trough } = projectNuc({ ...split, firstEggsDay: 14 }, 60);
    expect(trough.day).toBeGreaterThanOrEqual(14 + 20 - 1);
    expect(trough.day).toBeLessThanOrEqual(14 + 20 + 5);
    expect(projectNuc(split, 5).trough.day).toBe(1);
  });

  it('get no young 20 days after a queen that is gone laid her last egg (Mussen et al. 1987: 21 days to the worker)', () => {
    const none = { framesOfBees: 0, framesOfSealedBrood: 0, framesOfOpenBrood: 0 };
    const laid = { firstEggsDay: 10, lastEggsDay: 24 };
    const { days } = projectNuc({ ...none, laidBefore: [laid] }, 80);
    const lays = projectNuc({ ...none, firstEggsDay: 10 }, 80).days;
    expect(days.slice(0, 45)).toEqual(lays.slice(0, 45));
    for (let day = 46; day < 80; day++) expect(days[day + 1]!.bees).toBeLessThan(days[day]!.bees);
    const next = projectNuc({ ...none, laidBefore: [laid], firstEggsDay: 40 }, 80).days;
    expect(next[60]).toEqual(days[60]);
    expect(next[70]!.bees).toBeGreaterThan(days[70]!.bees);
  });

  it('come up from her eggs over ten days, the first of them 20 days after the first egg', () => {
    const none = { framesOfBees: 0, framesOfSealedBrood: 0, framesOfOpenBrood: 0 };
    const { days } = projectNuc({ ...none, firstEggsDay: 10 }, 60);
    // A day: 800 eggs (assumed), of a hundred 85.1 emerge (Fukuda and Sakagami 1968); deaths are put back.
    const young = days
      .slice(1)
      .map(({ bees }, i) => bees - (days[i]?.bees ?? 0) * (1 - houseBeeDeathPerDay.value));
    const tenth = (800 * 0.851) / 10;
    expect(young[29]).toBe(0);
    for (const [day, tenths] of [
      [30, 1],
      [31, 2],
      [38, 9],
      [39, 10],
      [45, 10],
    ] as const)
      expect(Math.abs((young[day] ?? NaN) - tenths * tenth), `day ${String(day)}`).toBeLessThan(2);
  });

  const none = { framesOfBees: 0, framesOfSealedBrood: 0, framesOfOpenBrood: 0 };

  it('gain from a frame of brood that is given later as from one of the split, as many days on', () => {
    for (const brood of [
      { framesOfSealedBrood: 1, framesOfOpenBrood: 0 },
      { framesOfSealedBrood: 0, framesOfOpenBrood: 1 },
    ]) {
      const given = projectNuc({ ...none, broodGiven: [{ ...brood, day: 10 }] }, 60).days;
      const first = projectNuc({ ...none, ...brood }, 50).days;
      expect(given.slice(0, 10).every(({ bees }) => bees === 0)).toBe(true);
      expect(given.slice(10).map(({ bees }) => bees)).toEqual(first.map(({ bees }) => bees));
    }
  });

  it('are as many as were counted again, and go on from there', () => {
    const [day, framesOfBees] = [9, 4];
    const { days } = projectNuc({ ...split, counted: [{ day, framesOfBees }] }, 60);
    expect(days.slice(0, day)).toEqual(projectNuc(split, 60).days.slice(0, day));
    // 1,900 a deep comb, 1,400 to 2,430 (Burgett and Burikam 1985).
    expect(days[day]).toEqual({ day, bees: 4 * 1900, low: 4 * 1400, high: 4 * 2430 });
    const without = projectNuc({ ...none, framesOfBees: 3, counted: [{ day, framesOfBees: 1 }] }, 60).days;
    expect(without[day + 1]!.bees).toBeLessThan(1900);
    expect(without[day + 1]!.bees).toBeGreaterThan(1900 * 0.9);
    const twice = [
      { day, framesOfBees: 1 },
      { day, framesOfBees: 2 },
    ];
    expect(projectNuc({ ...split, counted: twice }, 60).days[day]!.bees).toBe(2 * 1900);
  });

  it('are fewest where most flew home, and most where fewest did', () => {
    const bare = { framesOfSealedBrood: 0, framesOfOpenBrood: 0 };
    const after = (low: number, high: number) => on(20, { ...bare, foragersGone: { bees: 1500, low, high } });
    const usual = after(1000, 2000);
    const fewerAtMost = after(1000, 1600);
    expect([fewerAtMost.low > usual.low, fewerAtMost.high]).toEqual([true, usual.high]);
    const moreAtLeast = after(1400, 2000);
    expect([moreAtLeast.low, moreAtLeast.high < usual.high]).toEqual([usual.low, true]);
  });

  it('are never negative, and lie between the low and the high end', () => {
    const frames = fc.integer({ min: 0, max: 40 }).map((quarters) => quarters / 4);
    fc.assert(
      fc.property(
        frames,
        frames,
        frames,
        fc.option(fc.integer({ min: 8, max: 40 }), { nil: undefined }),
        (framesOfBees, framesOfSealedBrood, framesOfOpenBrood, firstEggsDay) => {
          const nuc = { framesOfBees, framesOfSealedBrood, framesOfOpenBrood };
          const days = projectNuc(firstEggsDay === undefined ? nuc : { ...nuc, firstEggsDay }, 50).days;
          for (const { low, bees, high } of days) {
            expect(low).toBeGreaterThanOrEqual(0);
            expect(low).toBeLessThanOrEqual(bees);
            expect(bees).toBeLessThanOrEqual(high);
          }
        },
      ),
      { numRuns: 100 },
    );
  });
});
