/**
 * A small seeded part of `npm run levels`. Its limits are those of the whole with the sampling error of few nucs
 * allowed for; the seeds belong to none of the settings that the whole is run on.
 */
import { describe, expect, it } from 'vitest';
import { chillNights, chillVerdicts, secondWeak, verdictOf, withoutOutside } from './chill-level.ts';
import { driftRowsOf } from './drift-cases.ts';
import { driftTally, massTally, saidRight } from './drift-level.ts';
import { goneVerdict } from './gone-level.ts';
import { medianLevel, shareLevel, table } from './level.ts';
import { full } from '../support/size.ts';
import { stepTally } from './steps-level.ts';

const seeds = (from: number, n: number): number[] => Array.from({ length: n }, (_, i) => from + i);

describe('levels, a small part', () => {
  it.each(['simulator, practice size', 'second generator'])(
    'mass of the foragers lost after five days, and the morning that says gone: %s',
    (name) => {
      const row = driftRowsOf().find((one) => one.name === name);
      const tally = driftTally(row!, seeds(40, 8));
      const { told, covered, errors } = massTally(tally, 5);
      expect(told).toBeGreaterThanOrEqual(7);
      expect([...errors].sort((a, b) => a - b)[errors.length >> 1]).toBeLessThan(0.15);
      // Of eight 90 % intervals fewer than five cover in one case in two hundred (binomial).
      expect(covered).toBeGreaterThanOrEqual(5);
      const { right, said } = saidRight(tally);
      expect(said).toBeGreaterThan(20);
      expect(right).toBeGreaterThanOrEqual(said - 1);
    },
    60_000,
  );

  it('"foragers gone" never comes before 80 % have gone', () => {
    const verdicts = seeds(60, 3).map((seed) => goneVerdict(seed, 'usual'));
    expect(verdicts.filter((v) => v.tooEarly)).toEqual([]);
  }, 60_000);

  it('weight steps are found and none is made up', () => {
    const tallies = seeds(80, 4).map((seed) => stepTally(seed, 'usual'));
    const truths = tallies.reduce((sum, t) => sum + t.truths, 0);
    const found = tallies.reduce((sum, t) => sum + t.found, 0);
    expect(truths).toBeGreaterThan(15);
    expect(truths - found).toBeLessThanOrEqual(1);
    expect(tallies.reduce((sum, t) => sum + t.made, 0)).toBe(0);
  }, 60_000);

  it.runIf(full)(
    'without an outside sensor the nest alone tells of chill nights',
    () => {
      const nights = secondWeak(seeds(120, 30)).flatMap((nuc) => chillNights(withoutOutside(nuc)));
      const verdicts = nights.map((night) => verdictOf(night));
      const warned = verdicts.filter((verdict) => verdict === 'warned').length;
      const chilled = warned + verdicts.filter((verdict) => verdict === 'missed').length;
      expect(chilled).toBeGreaterThan(15);
      // The whole tells 65 %: of twenty fewer than 40 % in one case in a hundred (binomial).
      expect(warned / chilled).toBeGreaterThan(0.4);
    },
    60_000,
  );

  it('ordinary nucs raise no false warning of chilling', () => {
    const verdicts = seeds(100, 3).flatMap((seed) => chillVerdicts(seed, 'usual', 'clean'));
    expect(verdicts.length).toBeGreaterThan(10);
    expect(verdicts.filter((v) => v === 'false').length).toBeLessThanOrEqual(1);
  }, 60_000);
});

describe('the table', () => {
  it('says what is met, with its interval', () => {
    const levels = [
      shareLevel('found', 99, 100, { atLeast: 99 }),
      medianLevel('error', [0.02, 0.05, 0.09], { atMost: 4 }),
    ];
    expect(levels.map((level) => level.met)).toEqual([true, false]);
    expect([0, 1].map((early) => shareLevel('early', early, 100, { under: 1 }).met)).toEqual([true, false]);
    expect(table('title', levels)).toMatch(/found +≥ 99 % +99\.0 % .*met\n.*MISSED/);
  });
});
