/**
 * Khoury, Myerscough & Barron 2011, PLoS ONE 6:e18491: equilibria and runs recomputed from its equations and rates
 * (L 2000, w 27000, α 0.25, σ 0.75); the collapse threshold of 0.355 as published is from memory. Betts 1938, Bee World
 * (citing Justrich): cells a square decimetre, both sides, from 378 to 923 for 12.8 to 20 cells in 10 cm.
 * Seber & Le Cren 1967, J. Anim. Ecol. 36:631: N = c1² / (c1 − c2), checked by its own arithmetic.
 */
import { describe, expect, it } from 'vitest';
import {
  collapseThreshold,
  colonyEquilibrium,
  publishedRates,
  runColony,
} from '../../server/biology/colony-model.ts';
import { cellsPerSquareDm } from '../../server/biology/comb.ts';
import { twoPassRemoval } from '../../server/introduction/two-pass-removal.ts';

describe('the colony model', () => {
  it.each([
    [0.1, 31_721, 12_408],
    [0.154, 16_841, 5_944],
    [0.2, 10_261, 3_352],
    [0.24, 6_470.0, 1_987.8],
    [0.3, 2_542.2, 718.3],
    [0.35, 208.8, 55.4],
  ])('rests at the same sizes when %d of the foragers die a day', (death, hive, foragers) => {
    const rest = colonyEquilibrium({ ...publishedRates, death });
    expect(Math.abs(rest!.hive - hive)).toBeLessThan(0.6);
    expect(Math.abs(rest!.foragers - foragers)).toBeLessThan(0.6);
  });

  it('has no colony beyond the threshold', () => {
    expect(collapseThreshold(publishedRates)).toBeCloseTo(0.3552, 4);
    expect(colonyEquilibrium({ ...publishedRates, death: 0.36 })).toBeNull();
  });

  it('makes no bees of none', () => {
    expect(runColony({ hive: 0, foragers: 0 }, publishedRates, 10)).toEqual({ hive: 0, foragers: 0 });
  });

  it.each([
    { death: 0.24, days: 20, hive: 13_203.1, foragers: 4_131.8 },
    { death: 0.24, days: 100, hive: 7_911.2, foragers: 2_441.7 },
    { death: 0.4, days: 20, hive: 8_797.8, foragers: 2_278.0 },
    { death: 0.4, days: 200, hive: 682.8, foragers: 172.4 },
  ])(
    'runs from 16,000 and 8,000 as it should (death $death, day $days)',
    ({ death, days, hive, foragers }) => {
      const end = runColony({ hive: 16_000, foragers: 8_000 }, { ...publishedRates, death }, days);
      // The vectors are printed to a tenth of a bee.
      expect(Math.abs(end.hive - hive)).toBeLessThan(0.06);
      expect(Math.abs(end.foragers - foragers)).toBeLessThan(0.06);
    },
  );
});

it.each([
  [12.8, 378],
  [18.87, 822],
  [20, 923.6],
])('a comb of %d cells in ten centimetres has %d in a square decimetre', (cells, expected) => {
  expect(Math.abs(cellsPerSquareDm(cells) - expected)).toBeLessThan(1);
});

it('estimates what two equal searches leave behind', () => {
  const found = twoPassRemoval(60, 20);
  expect(found).toMatchObject({ ok: true, population: 90, left: 10 });
  expect(found.ok && found.foundShare).toBeCloseTo(2 / 3, 12);
  // Standard error c1 c2 √(c1 + c2) / (c1 − c2)²
  expect(found.ok && found.standardError).toBeCloseTo((60 * 20 * Math.sqrt(80)) / 1600, 12);
  expect(twoPassRemoval(5, 5)).toMatchObject({ ok: false });
});
