/** Brood by age: eggs, larvae and sealed cells of six-hour cohorts, growing, dying and emerging. */
import {
  brood as figures,
  eggG,
  growthEfficiency,
  sealedBroodHazardPerCh,
  sealedLarvaG,
} from '../constants.ts';
import type { Rng } from '../random.ts';

interface BroodCohort {
  /** Age in days from laying, in developed days (a cool nest ages slower). */
  ageDays: number;
  cells: number;
}

export interface Brood {
  cohorts: BroodCohort[];
}

/** Mass of one brood animal, g: egg, exponential growth to sealing, then an even loss to the adult's mass. */
export function broodAnimalG(ageDays: number, adultG: number): number {
  if (ageDays <= figures.hatchDays) return eggG;
  if (ageDays < figures.sealedDays) {
    const grown = (ageDays - figures.hatchDays) / (figures.sealedDays - figures.hatchDays);
    return eggG * (sealedLarvaG / eggG) ** grown;
  }
  const waited = Math.min(1, (ageDays - figures.sealedDays) / (figures.emergenceDays - figures.sealedDays));
  return sealedLarvaG + (adultG - sealedLarvaG) * waited;
}

/** Cells of a split: open brood spread evenly over 0-9 days of age, sealed over 9-21. */
export function broodOfSplit(rng: Rng, openCells: number, sealedCells: number): Brood {
  const cohorts: BroodCohort[] = [];
  for (let age = 0.125; age < figures.emergenceDays; age += 0.25) {
    const open = age < figures.sealedDays;
    const bins = open ? figures.sealedDays * 4 : (figures.emergenceDays - figures.sealedDays) * 4;
    cohorts.push({ ageDays: age, cells: rng.poisson((open ? openCells : sealedCells) / bins) });
  }
  return { cohorts };
}

/** Development speed against that at 34.5 °C. From memory: sealed time lengthens by about a fifth at 31 °C. */
export const developmentSpeed = (nestC: number): number =>
  Math.min(1.06, Math.max(0, 1 - 0.06 * Math.max(0, 34.5 - nestC) + 0.02 * Math.max(0, nestC - 34.5)));

/** Standard normal distribution function, Abramowitz & Stegun 26.2.17 (error under 7.5e-8). */
function normalBelow(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const tail =
    (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) *
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return z >= 0 ? 1 - tail : tail;
}

/** Chance that a bee of brood age `to` has emerged, given that she had not at age `from`. */
export function emergenceChance(from: number, to: number): number {
  const below = (age: number) => normalBelow((age - figures.emergenceDays) / figures.emergenceSdDays);
  const before = below(from);
  return before >= 1 ? 1 : (below(to) - before) / (1 - before);
}

export interface BroodHour {
  emerged: number;
  died: number;
  /** Mass of the animals that died, g. */
  diedG: number;
  /** Taken from the stores, and of that breathed out, g. */
  fedG: number;
  breathedG: number;
}

/** An hour in the life of the brood, in place. `chillCh` is the hour's °C·h under 32 °C; `fed` is whether there is food. */
export function stepBroodHour(
  rng: Rng,
  brood: Brood,
  adultG: number,
  developedDays: number,
  chillCh: number,
  fed: boolean,
): BroodHour {
  const hour: BroodHour = { emerged: 0, died: 0, diedG: 0, fedG: 0, breathedG: 0 };
  const openHazard = (-Math.log(figures.survival) / figures.sealedDays) * developedDays;
  for (const cohort of brood.cohorts) {
    if (cohort.cells === 0) continue;
    const from = cohort.ageDays;
    const open = from < figures.sealedDays;
    const hazard = open ? openHazard + (fed ? 0 : 0.03) : sealedBroodHazardPerCh * chillCh;
    const died = rng.binomial(cohort.cells, 1 - Math.exp(-hazard));
    cohort.cells -= died;
    hour.died += died;
    hour.diedG += died * broodAnimalG(from, adultG);
    // Larvae that nobody feeds don't grow.
    cohort.ageDays = from + (open && !fed ? 0 : developedDays);
    feed(hour, cohort, from, adultG);
    if (cohort.ageDays > figures.emergenceDays - 2) {
      const out = rng.binomial(cohort.cells, emergenceChance(from, cohort.ageDays));
      cohort.cells -= out;
      hour.emerged += out;
      // What she weighed in the cell beyond an adult's mass is breathed out at emergence.
      hour.breathedG += out * (broodAnimalG(cohort.ageDays, adultG) - adultG);
    }
  }
  if (brood.cohorts.some((c) => c.cells === 0 && c.ageDays > 24)) {
    brood.cohorts = brood.cohorts.filter((c) => c.cells > 0 || c.ageDays <= 24);
  }
  return hour;
}

/** Growth takes feed, of which part is breathed out; sealed brood loses mass by breathing alone. */
function feed(hour: BroodHour, cohort: BroodCohort, fromDays: number, adultG: number): void {
  const grown = cohort.cells * (broodAnimalG(cohort.ageDays, adultG) - broodAnimalG(fromDays, adultG));
  if (grown >= 0) {
    hour.fedG += grown / growthEfficiency;
    hour.breathedG += grown / growthEfficiency - grown;
  } else {
    hour.breathedG -= grown;
  }
}

export function countBrood(brood: Brood): { eggs: number; open: number; sealed: number } {
  let eggs = 0;
  let open = 0;
  let sealed = 0;
  for (const { ageDays, cells } of brood.cohorts) {
    if (ageDays < figures.hatchDays) eggs += cells;
    if (ageDays < figures.sealedDays) open += cells;
    else sealed += cells;
  }
  return { eggs, open, sealed };
}

export function broodMassG(brood: Brood, adultG: number): number {
  let sum = 0;
  for (const { ageDays, cells } of brood.cohorts) sum += cells * broodAnimalG(ageDays, adultG);
  return sum;
}
