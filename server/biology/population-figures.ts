/** Adults and comb. */
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

/** Worker cells of a deep comb, both sides. */
export const cellsPerFrame: Figure = {
  value: 7000,
  low: 6300,
  high: 7400,
  unit: 'cells',
  source:
    'Betts 1938: 822 a square decimetre with cells of 5.3 mm, both sides, times 8.5 dm² of a deep comb (from memory)',
  basis: 'derived',
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

/** A young queen comes into full lay over this long from her first eggs. */
export const fullLayAfterDays: Figure = {
  value: 10,
  low: 5,
  high: 20,
  unit: 'd',
  source: 'nobody states it: a patch that grows day by day',
  basis: 'assumed',
};

/** Of the foragers that are still to leave a moved split, the share that goes each day. */
export const foragersLeavePerDay: Figure = {
  value: 0.5,
  low: 0.3,
  high: 0.9,
  unit: '1/d',
  source: 'from the practice that they have gone after one to three flying days',
  basis: 'derived',
};
