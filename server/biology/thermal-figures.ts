/** Figures of warmth that the temperature signals rest on. */
import type { Figure } from './figure.ts';

/** Brood nest with open or sealed brood. */
export const broodNestC: Figure = {
  value: 34.5,
  low: 33,
  high: 36,
  unit: 'Cel',
  source:
    'Jones et al. 2005, J Comp Physiol A 191:1121; Kleinhenz et al. 2003, J Exp Biol 206:4217; Stabentheiner et al. 2010',
  basis: 'published',
  note: 'normal band of a brood nest',
};

/** Under this, sealed brood suffers when it lasts. */
export const sealedBroodColdC: Figure = {
  value: 32,
  unit: 'Cel',
  source: 'Stabentheiner et al. 2021 (citing Himmer 1932); Becher et al. 2009',
  basis: 'published',
  note: 'pupae kept below 32 °C too long emerge malformed',
};

/** Under this, open brood is taken to suffer; larvae bear cold longer than sealed brood. */
export const openBroodColdC: Figure = {
  value: 32,
  low: 30,
  high: 32,
  unit: 'Cel',
  source:
    'Stabentheiner et al. 2021: eggs and open larvae bear cooling longer; Petz et al. 2004: break in respiration at 32.5 °C',
  basis: 'published',
  note: 'the same lower edge of the band, with more patience in the rule',
};

/** Over this, brood is too hot. */
export const broodHotC: Figure = {
  value: 37,
  low: 36,
  high: 38,
  unit: 'Cel',
  source: 'upper edge of the band 36 °C: Becher et al. 2009; Stabentheiner et al. 2010',
  basis: 'derived',
  note: 'a degree above the band, for probe offset',
};

export const queenColdC: Figure = {
  value: 15,
  unit: 'Cel',
  source: 'McAfee et al. 2020, Nature Sustainability 3',
  basis: 'published',
  note: 'safe from 15 to 38 °C, where a loss of 11.5 % in the share of living sperm parts failed from healthy queens; field trials disagree (McAfee et al. 2021: none at 42 °C, Guarna et al. 2018: many lost): a risk, not a verdict',
};

export const queenHotC: Figure = {
  value: 38,
  unit: 'Cel',
  source: 'McAfee et al. 2020, Nature Sustainability 3',
  basis: 'published',
  note: 'safe from 15 to 38 °C, where a loss of 11.5 % in the share of living sperm parts failed from healthy queens',
};

/** Conductance of a box, from the air in it to outside. */
export const boxConductanceWPerK: Figure = {
  value: 0.8,
  low: 0.3,
  high: 1.2,
  unit: 'W/K',
  source: 'one wooden two-box hive 0.78-0.86 W/K, a measured replication of Mitchell 2016',
  basis: 'published',
  note: 'walls alone; none found for insulated nucs: fitted per nuc as soon as its own nights allow',
};

/** Conductance from brood nest to outside against that of the walls alone: the mantle of bees lies between. */
export const mantleConductanceShare: Figure = {
  value: 0.5,
  low: 0.3,
  high: 0.8,
  unit: '1',
  source: 'nobody states it: mantle and walls taken as about as tight each',
  basis: 'assumed',
};

/** Heat that a worker keeps up through a cold night, averaged over all bees of the box. */
export const heatPerBeeW: Figure = {
  value: 0.003,
  low: 0.0015,
  high: 0.006,
  unit: 'W',
  source:
    'Thermochimica Acta 382:221 (2002): resting 0.5-1.2 mW; heating bees tens of mW (from memory), a share of them at a time',
  basis: 'derived',
  note: 'weak: spread covers both; about 6 W a frame covered on both sides; fitted per nuc',
};

/** Bees of a frame of bees as a keeper counts it: a deep comb with both sides covered. */
export const beesPerFrame: Figure = {
  value: 1900,
  low: 1400,
  high: 2430,
  unit: 'bees',
  source:
    'Burgett and Burikam 1985, J Econ Entomol 78:1154: 1,900 in a single layer on both sides (Kauffeld), 1,400 a mean over occupied combs (Simpson 1969); its own holding capacity of 2,430 from memory',
  basis: 'published',
  note: 'a Langstroth deep comb; a British one holds about four fifths',
};
