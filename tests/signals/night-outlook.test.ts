/** The night's lowest: what a nest's own nights say of it, and what is left of it once part of the night has passed. */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { levelErrorK } from '../../server/biology/nest-figures.ts';
import { nightLevel, type SunkNight } from '../../server/signals/chill/night-level.ts';
import { noWarmerThan, type NightOutlook } from '../../server/signals/chill/night-so-far.ts';
import { mixtureBelow, mixtureQuantile, type Component } from '../../server/signals/statistics/mixture.ts';

const night = (ageDays: number, lowestC: number, gaveWay = false): SunkNight => ({
  ageDays,
  lowestC,
  gaveWay,
});

describe('the level of a nest’s nights', () => {
  it('is the usual level, with its own error, where no night tells', () => {
    const alone = { meanC: 34.5, sdK: levelErrorK.value };
    expect(nightLevel(34.5, [])).toEqual(alone);
    // The night that runs, and one that cold defeated, say nothing of a nest that holds.
    expect(nightLevel(34.5, [night(0, 32), night(1, 31, true)])).toEqual(alone);
  });

  it('comes to lie where its nights lie, and no night alone makes a habit', () => {
    const sinking = Array.from({ length: 10 }, (_, i) => night(10 - i, 32.7));
    const { meanC, sdK } = nightLevel(34, sinking);
    expect(meanC).toBeLessThan(33);
    expect(meanC).toBeGreaterThan(32.7);
    expect(sdK).toBeLessThan(0.7);
    expect(nightLevel(34, [night(1, 32.7)]).meanC).toBeCloseTo(33.35, 9);
  });

  it('heeds the newer of two nights more', () => {
    expect(nightLevel(34, [night(2, 34), night(1, 33)]).meanC).toBeLessThan(
      nightLevel(34, [night(2, 33), night(1, 34)]).meanC,
    );
  });

  it('lies between the usual level and the lowest of its nights, and is never surer than the level’s own error', () => {
    const nights = fc.array(
      fc.tuple(fc.integer({ min: 1, max: 10 }), fc.double({ min: 32, max: 35, noNaN: true })),
    );
    fc.assert(
      fc.property(nights, (drawn) => {
        const { meanC, sdK } = nightLevel(
          34,
          drawn.map(([age, lowestC]) => night(age, lowestC)),
        );
        const all = [34, ...drawn.map(([, lowestC]) => lowestC)];
        expect(meanC).toBeGreaterThanOrEqual(Math.min(...all) - 1e-9);
        expect(meanC).toBeLessThanOrEqual(Math.max(...all) + 1e-9);
        expect(sdK).toBeGreaterThanOrEqual(levelErrorK.value);
      }),
    );
  });
});

const limitC = 32;
const parts: readonly Component[] = [
  { weight: 0.8, mean: 33.2, sd: 0.5 },
  { weight: 0.2, mean: 30, sd: 2 },
];
const outlookOf = (mixture: readonly Component[]): NightOutlook => ({
  forecast: 'told',
  tonightMinC: {
    ok: true,
    value: mixtureQuantile(mixture, 0.5),
    low: mixtureQuantile(mixture, 0.05),
    high: mixtureQuantile(mixture, 0.95),
    level: 0.9,
    restsOn: [],
  },
  chanceBelow: mixtureBelow(mixture, limitC),
  chanceOfUsual: null,
  basis: 'own-record',
  nightBeginsMs: 0,
  nightEndsMs: 0,
  parts: mixture,
});

describe('a night that is under way', () => {
  it('is likelier to chill a nest the nearer that has sunk to the limit', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 31, max: 36, noNaN: true }),
        fc.double({ min: 0, max: 2, noNaN: true }),
        (warmerC, lessK) => {
          const warmer = noWarmerThan(warmerC, limitC, outlookOf(parts), true);
          const colder = noWarmerThan(warmerC - lessK, limitC, outlookOf(parts), true);
          expect(colder.chanceBelow).toBeGreaterThanOrEqual((warmer.chanceBelow ?? NaN) - 1e-9);
          const { tonightMinC } = colder;
          if (!tonightMinC.ok) throw new Error('nothing said');
          expect(tonightMinC.high).toBeLessThanOrEqual(warmerC - lessK);
          expect(tonightMinC.low).toBeLessThanOrEqual(tonightMinC.value);
        },
      ),
    );
  });

  it('is what the evening said while nearly all of it is possible, and by day', () => {
    const evening = outlookOf(parts);
    expect(noWarmerThan(36, limitC, evening, true).chanceBelow).toBe(evening.chanceBelow);
    expect(noWarmerThan(32.4, limitC, evening, false).chanceBelow).toBe(evening.chanceBelow);
    expect(noWarmerThan(32.4, limitC, evening, true).chanceBelow).toBeGreaterThan(0.3);
  });

  it('has chilled once it is under the limit, and says nothing where nothing was said', () => {
    expect(noWarmerThan(31.9, limitC, outlookOf(parts), true).chanceBelow).toBe(1);
    const silent: NightOutlook = {
      ...outlookOf([]),
      chanceBelow: null,
      tonightMinC: { ok: false, why: 'no outside temperature and no forecast' },
    };
    expect(noWarmerThan(32.4, limitC, silent, true)).not.toHaveProperty('parts');
    expect(noWarmerThan(32.4, limitC, silent, true).chanceBelow).toBeNull();
  });
});
