/** Adult bees of a nuc that know no other home: house bees by age, and the foragers that grow out of them. */
import { forager as figures, homeDeathPerDay, recruitment } from '../constants.ts';
import type { Rng } from '../random.ts';

const oldestDays = 70;
/** A house bee takes up foraging from this age on when foragers are short. Ribbands 1952: 9-35 days. */
const youngestForagerDays = 9;

export interface Adults {
  /** House bees at home by age in days. */
  readonly byAge: Float64Array;
  /** Their sum, kept by the functions of this file. */
  house: number;
  /** Foragers at home that know the new stand. */
  foragersHome: number;
  /** Foragers afield. */
  out: number;
}

/**
 * Ages of `count` adults of a thriving colony (even to three weeks, then falling), of which the share
 * `oldShare` that knows the old stand, mostly the oldest, is split off.
 */
export function adultsOfSplit(rng: Rng, count: number, oldShare: number): { adults: Adults; old: number } {
  const weight = Array.from({ length: oldestDays }, (_, age) => (age < 21 ? 1 : Math.exp(-(age - 21) / 6)));
  const total = weight.reduce((a, b) => a + b, 0);
  const knows = (age: number, half: number) => 1 / (1 + Math.exp(-(age - half) / 2));
  let low = 0;
  let high = 60;
  for (let i = 0; i < 40; i++) {
    const half = (low + high) / 2;
    const share = weight.reduce((sum, w, age) => sum + w * knows(age, half), 0) / total;
    if (share > oldShare) low = half;
    else high = half;
  }
  const byAge = new Float64Array(oldestDays);
  let old = 0;
  for (let age = 0; age < oldestDays; age++) {
    const here = Math.round((count * (weight[age] ?? 0)) / total);
    const leaving = rng.binomial(here, knows(age, low));
    old += leaving;
    byAge[age] = here - leaving;
  }
  const house = byAge.reduce((sum, bees) => sum + bees, 0);
  return { adults: { byAge, house, foragersHome: 0, out: 0 }, old };
}

/** Young bees come out of their cells. */
export function addEmerged(adults: Adults, bees: number): void {
  adults.byAge[0] = (adults.byAge[0] ?? 0) + bees;
  adults.house += bees;
}

/** Each bee at home goes with the given chance; returns how many went. */
export function takeShare(rng: Rng, adults: Adults, share: number): number {
  let house = 0;
  for (let age = 0; age < oldestDays; age++) {
    const going = rng.binomial(adults.byAge[age] ?? 0, share);
    adults.byAge[age] = (adults.byAge[age] ?? 0) - going;
    house += going;
  }
  const foragers = rng.binomial(adults.foragersHome, share);
  adults.house -= house;
  adults.foragersHome -= foragers;
  return house + foragers;
}

export interface AdultsHour {
  died: number;
  recruited: number;
}

/** An hour at home: deaths, and house bees that take up foraging as foragers are short. `flight` is the hour's mean activity. */
export function stepAdultsHour(
  rng: Rng,
  adults: Adults,
  oldForagersHere: number,
  flight: number,
  starving: boolean,
): AdultsHour {
  const hour = { died: 0, recruited: 0 };
  const foragers = adults.foragersHome + adults.out + oldForagersHere;
  const all = adults.house + foragers;
  const ratePerDay = Math.max(0, recruitment.alpha - recruitment.sigma * (all > 0 ? foragers / all : 0));
  // Khoury's rate is a daily one; new foragers orient in flying weather only, say over eight full hours.
  const recruitChance = (ratePerDay * flight) / 8;
  const deathChance = (homeDeathPerDay + (starving ? 0.5 : 0)) / 24;
  for (let age = 0; age < oldestDays; age++) {
    const bees = adults.byAge[age] ?? 0;
    if (bees === 0) continue;
    const died = rng.binomial(bees, deathChance);
    const recruited = age < youngestForagerDays ? 0 : rng.binomial(bees - died, recruitChance);
    adults.byAge[age] = bees - died - recruited;
    hour.died += died;
    hour.recruited += recruited;
  }
  adults.house -= hour.died + hour.recruited;
  adults.foragersHome += hour.recruited;
  return hour;
}

/** Everyone is a day older. The few that reach the greatest age stay in the last class. */
export function ageADay(adults: Adults): void {
  const last = (adults.byAge[oldestDays - 1] ?? 0) + (adults.byAge[oldestDays - 2] ?? 0);
  adults.byAge.copyWithin(1, 0, oldestDays - 2);
  adults.byAge[oldestDays - 1] = last;
  adults.byAge[0] = 0;
}

export interface Traffic {
  left: number;
  cameHome: number;
  lost: number;
}

/** A minute at the entrance: trips begun, ended, and bees lost afield. They come home at dusk and in rain whatever happens. */
export function stepTraffic(rng: Rng, adults: Adults, flight: number, mortalityPerDay: number): Traffic {
  const left =
    flight > 0
      ? Math.min(adults.foragersHome, rng.poisson(adults.foragersHome * flight * (figures.tripsPerHour / 60)))
      : 0;
  const back = adults.out > 0 ? rng.binomial(adults.out, 1 / figures.minutesPerTrip) : 0;
  // About six trips on a full day share the daily risk.
  const lost = back > 0 ? rng.binomial(back, mortalityPerDay / 6) : 0;
  adults.foragersHome += back - lost - left;
  adults.out += left - back;
  return { left, cameHome: back - lost, lost };
}
