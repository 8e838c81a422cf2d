/** Adults, comb and the colony model. */
import type { Figure } from './figure.ts';

const khoury = 'Khoury, Myerscough and Barron 2011, PLoS ONE 6:e18491';

export const recruitmentPerDay: Figure = { value: 0.25, unit: '1/d', source: khoury, basis: 'seen-quoted' };
export const socialInhibition: Figure = { value: 0.75, unit: '1/d', source: khoury, basis: 'seen-quoted' };
/** Death of workers that do not fly, in a summer nuc. */
export const houseBeeDeathPerDay: Figure = {
  value: 0.02,
  low: 0.01,
  high: 0.04,
  unit: '1/d',
  source: 'life span of a summer worker 4-6 weeks (Oliver 2016, general pages); 1 % a day over the year',
  basis: 'derived',
};

/** Age at first foraging. */
export const firstForagingDays: Figure = {
  value: 21,
  low: 9,
  high: 35,
  unit: 'd',
  source: 'Ribbands 1952: 9-35 d within one colony',
  basis: 'published',
};

/** Worker cells of a deep comb, both sides. */
export const cellsPerFrame: Figure = {
  value: 6800,
  low: 6000,
  high: 7000,
  unit: 'cells',
  source: 'usually 3,300-3,500 a side',
  basis: 'from-memory',
};

/** Cells that hold brood on a comb that a keeper calls a frame of brood. */
export const broodShareOfFrame: Figure = {
  value: 0.6,
  low: 0.45,
  high: 0.8,
  unit: '1',
  source: 'an estimate in quarters of a frame covers pollen, honey and empty cells round the brood',
  basis: 'common-practice',
};

/** Eggs a day of a young mated queen in a nuc, once she is in full lay. */
export const nucLayingPerDay: Figure = {
  value: 800,
  low: 400,
  high: 1200,
  unit: 'eggs/d',
  source: 'a queen in a nuc lays what its bees can cover; 2000 a day is a full colony',
  basis: 'common-practice',
};

/** Betts 1938: cells on both sides of a square decimetre are this times the square of the cells in 10 cm. */
export const cellsPerSquareFactor: Figure = {
  value: 2.309,
  unit: '1',
  source: 'Betts 1938, Bee World, citing Justrich: (cells in 10 cm)² × 2.309',
  basis: 'published',
};
