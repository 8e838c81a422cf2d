/** Figures of weight and flight that the weight signals rest on. */
import type { Figure } from './figure.ts';

/** Mass of a worker that flies home from a moved split. */
export const foragerBodyG: Figure = {
  value: 0.095,
  low: 0.085,
  high: 0.11,
  unit: 'g',
  source:
    'Mitchell 1970, Am Bee J 110: mature workers 11,360 a kg (88 mg); a laboratory’s fresh foragers 4,500-5,000 a lb (91-101 mg); both quoted on a mailing list',
  basis: 'seen-quoted',
  note: 'lighter than the mean worker: they leave without a crop load',
};

/** Mass of a worker, averaged over all that are in a box. */
export const workerBodyG: Figure = {
  value: 0.113,
  low: 0.086,
  high: 0.128,
  unit: 'g',
  source: 'Oliver 2016, ABJ August: 8,800 bees a kg',
  basis: 'published',
};

/** Air temperature at which bees begin to fly. */
export const flightBeginsC: Figure = {
  value: 12,
  low: 10,
  high: 14,
  unit: 'Cel',
  source: 'Burrill and Dietz 1981, in COLOSS BEEBOOK in-vitro §4.1.9',
  basis: 'published',
  note: 'foraging rises with temperature from 12 to 20 °C; below 12 °C usually none',
};

/** Air temperature from which warmth no longer holds flight back. */
export const flightFreeC: Figure = {
  value: 20,
  low: 18,
  high: 22,
  unit: 'Cel',
  source: 'Burrill and Dietz 1981, in COLOSS BEEBOOK in-vitro §4.1.9',
  basis: 'published',
  note: 'foraging rises with temperature from 12 to 20 °C',
};

/** Flying hours after which all but a third of the foragers of a moved split have gone. */
export const homingFlightHours: Figure = {
  value: 3,
  low: 1,
  high: 7,
  unit: 'h of full flight',
  source: 'common practice: in good weather a moved split has lost its foragers in one to three days',
  basis: 'common-practice',
  note: 'a wide prior; the fit settles it where the scale can tell',
};

/** Share of a split's adults that know the old stand. */
export const foragerShare: Figure = {
  value: 0.25,
  low: 0.15,
  high: 0.5,
  unit: '1',
  source:
    'foragers a quarter to a third of the adults in the model of Khoury, Myerscough and Barron 2011, PLoS ONE 6:e18491; bees that have only learnt the place fly home too, as many as another sixth',
  basis: 'derived',
  note: 'the low end for splits of mostly nurse bees',
};

/** Drift of a load cell with temperature. */
export const loadCellDriftGPerK: Figure = {
  value: 0,
  low: -10,
  high: 10,
  unit: 'g/K',
  source: 'from memory: 0.05 % of full scale in 10 K, about 100 g on a 200 kg cell',
  basis: 'from-memory',
  note: 'either sign; fitted per scale',
};

/** Least fall that is read as bees leaving in a mass. */
export const massDepartureG: Figure = {
  value: 300,
  low: 300,
  high: 1000,
  unit: 'g',
  source:
    'Ocko and Mahadevan 2014: swarms of 2,000-20,000 bees; Rangel and Seeley 2012: 0.75 of the workers leave',
  basis: 'derived',
  note: 'a nuc of 3,000-6,000 bees loses 0.3-1 kg',
};

/** What bees that leave together carry besides themselves, as a share of their own mass. */
export const departingLoad: Figure = {
  value: 0.35,
  low: 0.2,
  high: 0.5,
  unit: '1',
  source: 'from memory: swarming workers take about 35-40 mg of honey each, beside a body of about 113 mg',
  basis: 'from-memory',
  note: 'sets only the most that a fall may weigh and still be bees',
};

/** Most that one departure can weigh where nothing is known of the box: a large prime swarm. */
export const departureAtMostG: Figure = {
  value: 3500,
  low: 2000,
  high: 4500,
  unit: 'g',
  source:
    'Ocko and Mahadevan 2014: swarms of at most 20,000 bees; with their load about 3 kg, and a spread for the scale',
  basis: 'derived',
};
