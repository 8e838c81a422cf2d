/** Development of brood, in days of 24 hours from the laying of the egg unless a name says otherwise. */
import type { Figure } from './figure.ts';

const mussen = 'Mussen et al. 1987, Beekeeping in California (University of California)';
const fukuda = 'Fukuda and Sakagami 1968, Res. Popul. Ecol. 10:31, doi 10.1007/BF02514731';

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

/** Drone cell sealed. */
export const droneSealedDays: Figure = {
  value: 10,
  low: 9.5,
  high: 10.5,
  unit: 'd',
  source:
    'stage table of the Queensland DPI, quoted by an encyclopedia: 10 d; half a day of spread is assumed',
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

/** Worker brood is gone by then: the safe figure. */
export const workerEmergesDays: Figure = {
  value: 21,
  low: 20,
  high: 22,
  unit: 'd',
  source: `${mussen}; ${fukuda}: 20 d in 87 %, 21 d in 8 %`,
  basis: 'published',
};

/** Most workers emerge on this day: for how many bees there are. */
export const workerUsuallyEmergesDays: Figure = {
  value: 20,
  low: 19,
  high: 21,
  unit: 'd',
  source: `${fukuda}: 20 d in 87.1 %, 21 d in 8.3 %, 19 or over 22 d in the rest`,
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
  low: 8.5,
  high: 9.5,
  unit: 'd',
  source:
    'as long as a worker cell takes to be sealed; agrees with “none after 8 d” in Influence of queenlessness and unsealed brood on ovaries in workers, J. Apic. Res.',
  basis: 'derived',
};

const stages = `${fukuda}: of 100 eggs 94.2 unsealed brood, 86.4 sealed brood, 85.1 adults, in the nest’s middle`;
const edge =
  'the low end, for the edge of a small nest, is assumed: “decreases remarkably at peripheral areas”';

/** Eggs that become adults. */
export const eggToAdultSurvival: Figure = {
  value: 0.851,
  low: 0.7,
  high: 0.851,
  unit: '1',
  source: stages,
  basis: 'published',
  note: edge,
};

/** Larvae that become adults. */
export const larvaToAdultSurvival: Figure = {
  value: 0.903,
  low: 0.78,
  high: 0.903,
  unit: '1',
  source: `${stages}: 85.1 of 94.2`,
  basis: 'derived',
  note: edge,
};

/** Sealed brood that becomes adults. */
export const sealedToAdultSurvival: Figure = {
  value: 0.985,
  low: 0.9,
  high: 0.985,
  unit: '1',
  source: `${stages}: 85.1 of 86.4`,
  basis: 'derived',
  note: edge,
};

/** Age of a larva that is right for grafting, from laying. */
export const graftingAgeDays: Figure = {
  value: 3.67,
  low: 3.5,
  high: 4,
  unit: 'd',
  source: '12-20 h from hatching in Akongte et al. 2022, J. Apiculture 37:365; up to 24 h is common practice',
  basis: 'published',
};
