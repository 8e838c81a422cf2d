/** Development of brood, in days of 24 hours from the laying of the egg unless a name says otherwise. */
import type { Figure } from './figure.ts';

const mussen = 'Mussen et al. 1987, Beekeeping in California (University of California)';

/** Egg until it hatches, all castes. */
export const eggStageDays: Figure = {
  value: 3,
  low: 3,
  high: 3.5,
  unit: 'd',
  source: `${mussen}: 3 d; other pages 3-4 d`,
  basis: 'published',
};

/** Worker cell sealed. */
export const workerSealedDays: Figure = {
  value: 9,
  low: 8.5,
  high: 9.5,
  unit: 'd',
  source: 'stage table of the Queensland DPI, quoted by an encyclopedia: 9 d',
  basis: 'seen-quoted',
};

/** Queen cell sealed. */
export const queenCellSealedDays: Figure = {
  value: 7.75,
  low: 7.5,
  high: 8.5,
  unit: 'd',
  source: 'stage table of the Queensland DPI: 7.5 d; practice timetables: 8-9 d',
  basis: 'seen-quoted',
};

export const queenEmergesDays: Figure = {
  value: 16,
  low: 15,
  high: 17,
  unit: 'd',
  source: `${mussen}; warm nests 0.5-1 d earlier`,
  basis: 'published',
};

export const workerEmergesDays: Figure = {
  value: 21,
  low: 20,
  high: 22,
  unit: 'd',
  source: `${mussen}; spread from memory of Winston 1987`,
  basis: 'published',
};

export const droneEmergesDays: Figure = {
  value: 24,
  low: 24,
  high: 25,
  unit: 'd',
  source: mussen,
  basis: 'published',
};

/** A larva that a keeper calls young: up to two days from hatching, lying in jelly. */
export const youngLarvaUntilDays: Figure = {
  value: 5,
  low: 4.5,
  high: 5.5,
  unit: 'd',
  source: 'egg stage plus two days of larval life; half a day either way for the eye',
  basis: 'derived',
};

/** From here on no worker larva can be reared into a queen. */
export const rearableLimitDays: Figure = {
  value: 7,
  low: 6,
  high: 7.5,
  unit: 'd',
  source:
    'egg stage 3-3.5 d plus larvae of up to 4 d (Fell and Morse 1984); agrees with the practice of cutting on day 7',
  basis: 'derived',
};

/** Last open worker brood sealed or gone. */
export const openBroodUntilDays: Figure = {
  value: 9,
  low: 8,
  high: 9.5,
  unit: 'd',
  source:
    'Influence of queenlessness and unsealed brood on ovaries in workers, J. Apic. Res.: none after 8 d',
  basis: 'published',
};

/** Eggs that become adults, in the nest's middle. */
export const eggToAdultSurvival: Figure = {
  value: 0.851,
  unit: '1',
  source: 'Fukuda and Sakagami 1968, doi 10.1007/BF02514731',
  basis: 'seen-quoted',
};

/** Eggs that reach the larval stage. */
export const eggToLarvaSurvival: Figure = {
  value: 0.942,
  unit: '1',
  source: 'Fukuda and Sakagami 1968, doi 10.1007/BF02514731',
  basis: 'seen-quoted',
};

/** Age of a larva that is right for grafting, from laying: 12-24 h from hatching. */
export const graftingAgeDays: Figure = {
  value: 3.75,
  low: 3.5,
  high: 4,
  unit: 'd',
  source: 'Akongte et al. 2022, J. Apiculture 37:365',
  basis: 'published',
};
