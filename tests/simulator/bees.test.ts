/** Bees and brood against published figures and closed forms. */
import { describe, expect, it } from 'vitest';
import { adultsOfSplit, ageADay, stepAdultsHour, stepTraffic } from '../../simulator/colony/adults.ts';
import {
  broodAnimalG,
  broodOfSplit,
  countBrood,
  emergenceChance,
  stepBroodHour,
} from '../../simulator/colony/brood.ts';
import { leaveBy, oldForagers, stillHere } from '../../simulator/colony/homing.ts';
import { rngFor } from '../../simulator/random.ts';

describe('a split', () => {
  it.each([0.2, 0.28, 0.35])(
    'of which %d know the old stand keeps the others, mostly young ones',
    (share) => {
      const { adults, old } = adultsOfSplit(rngFor(1), 4000, share);
      expect(adults.house + old).toBeGreaterThan(3950);
      // Binomial spread of 4000 draws: five standard errors are 0.038.
      expect(Math.abs(old / (adults.house + old) - share)).toBeLessThan(0.038);
      const young = adults.byAge.slice(0, 10).reduce((a, b) => a + b, 0);
      expect(young / adults.house).toBeGreaterThan(0.45);
    },
  );
});

describe('homing', () => {
  it('follows the closed form of one rate where all are alike, slower at the end as they differ', () => {
    const bees = oldForagers(rngFor(2), 4000, 4, 0.1);
    const goneBy = (hours: number) => {
      leaveBy(bees, hours);
      return 1 - stillHere(bees) / 4000;
    };
    // Log-normal readiness of 0.35 changes the one-rate curve 1 − exp(−t/4) by under 0.03.
    for (const hours of [1, 2, 4, 8, 12])
      expect(Math.abs(goneBy(hours) - (1 - Math.exp(-hours / 4)))).toBeLessThan(0.05);
  });

  it('no flight, no loss', () => {
    expect(leaveBy(oldForagers(rngFor(2), 1000, 4, 0.1), 0)).toBe(0);
  });
});

describe('brood', () => {
  it('emerges 21 days after laying, nearly all between 20 and 22 (Mussen et al. 1987; Winston 1987)', () => {
    expect(emergenceChance(0, 21)).toBeCloseTo(0.5, 3);
    expect(emergenceChance(0, 20)).toBeLessThan(0.005);
    expect(emergenceChance(0, 22)).toBeGreaterThan(0.995);
  });

  it('of a split is all out by 22 days; open brood is gone by day 9, and 85 % of eggs become bees', () => {
    // Egg to adult 0.851: Fukuda & Sakagami 1968.
    const rng = rngFor(6);
    const brood = broodOfSplit(rng, 0, 0);
    brood.cohorts.splice(0, brood.cohorts.length, { ageDays: 0, cells: 20_000 });
    let emerged = 0;
    const openAt: number[] = [];
    for (let hour = 0; hour < 23 * 24; hour++) {
      openAt.push(countBrood(brood).open);
      emerged += stepBroodHour(rng, brood, 0.11, 1 / 24, 0, true).emerged;
    }
    expect(openAt[8.5 * 24]).toBeGreaterThan(0);
    expect(openAt[9.25 * 24]).toBe(0);
    // Five binomial standard errors of 20,000: 0.0126.
    expect(Math.abs(emerged / 20_000 - 0.851)).toBeLessThan(0.0126);
    expect(countBrood(brood).sealed).toBe(0);
  });

  it('weighs 0.14-0.16 g as a sealed larva and an adult’s mass at emergence', () => {
    expect(broodAnimalG(9, 0.11)).toBeCloseTo(0.155, 6);
    expect(broodAnimalG(21, 0.11)).toBeCloseTo(0.11, 6);
  });

  it('chilled at 18 °C for 24 h loses about a third of the sealed (Flores et al. 1996: 44 % against 15 %)', () => {
    const rng = rngFor(7);
    const brood = { cohorts: [{ ageDays: 12, cells: 10_000 }] };
    let died = 0;
    for (let hour = 0; hour < 24; hour++) died += stepBroodHour(rng, brood, 0.11, 0, 14, true).died;
    expect(died / 10_000).toBeGreaterThan(0.28);
    expect(died / 10_000).toBeLessThan(0.38);
  });
});

describe('foragers', () => {
  it('grow back to no more than a third of the adults (Khoury et al. 2011: α/σ)', () => {
    const rng = rngFor(8);
    const { adults } = adultsOfSplit(rng, 4000, 0.3);
    for (let hour = 0; hour < 12 * 24; hour++) {
      stepAdultsHour(rng, adults, 0, hour % 24 < 10 ? 1 : 0, false);
      if (hour % 24 === 23) ageADay(adults);
    }
    const share = adults.foragersHome / (adults.foragersHome + adults.house);
    expect(share).toBeGreaterThan(0.2);
    expect(share).toBeLessThan(1 / 3 + 0.02);
  });

  it('are out for trips in the day, and all home or lost an hour or three after dark', () => {
    const rng = rngFor(9);
    const adults = { byAge: new Float64Array(70), house: 0, foragersHome: 900, out: 0 };
    let lost = 0;
    for (let minute = 0; minute < 600; minute++) lost += stepTraffic(rng, adults, 1, 0.12).lost;
    // In the steady state out/home = trips an hour × hours a trip.
    expect(adults.out / adults.foragersHome).toBeGreaterThan(0.25);
    expect(adults.out / adults.foragersHome).toBeLessThan(0.42);
    for (let minute = 0; minute < 200; minute++) lost += stepTraffic(rng, adults, 0, 0.12).lost;
    expect(adults.out).toBeLessThanOrEqual(1);
    expect(adults.foragersHome + adults.out + lost).toBe(900);
    // A day's risk of 12 % over about six trips; five binomial standard errors are 5 %.
    expect(lost / 900).toBeGreaterThan(0.07);
    expect(lost / 900).toBeLessThan(0.17);
  });
});
