/** From when on cold, heat, hunger or strength matters to a nuc: the defaults of alerts, which a keeper may change. */
import { assumed } from './figure.ts';

// Brood and cold. No dose is published for a nest: Wang et al. 2016 has only that harm rises with time.
export const sealedBroodDoseKh = assumed(
  3,
  '°C·h',
  'cold that counts where sealed brood is all there is',
  1,
  8,
);
export const openBroodDoseKh = assumed(
  4,
  '°C·h',
  'the same with open brood, which stands cold longer',
  2,
  12,
);
export const urgentBroodDoseKh = assumed(6, '°C·h', 'cold that can’t wait until the evening', 4, 16);
export const warmMarginK = assumed(
  1,
  'K',
  'nearer than this to its limit no nest is by its own wandering',
  0.5,
  2,
);
export const blindFallKPerH = assumed(
  1,
  'K/h',
  'fall that counts where nothing is known of the night',
  0.5,
  2,
);
export const blindDarkFallKPerH = assumed(
  0.5,
  'K/h',
  'the same in the dark, which grows colder until dawn',
  0.25,
  1,
);
export const blindUnderUsualK = assumed(
  1,
  'K',
  'so far under the usual lowest of its days no nest comes by its own wandering',
  0.5,
  2,
);
export const timeToActMinutes = assumed(
  150,
  'min',
  'a keeper who is told needs about so long to get to a nuc',
  60,
  240,
);
export const timeToActAtMostMinutes = assumed(360, 'min', 'the same, at the slow end of the fall', 240, 720);

// Brood and heat.
export const broodFarTooHotC = assumed(
  38,
  'Cel',
  'from here on a short heat counts: two degrees above the band',
  37,
  40,
);
export const farHeatDoseKh = assumed(2, '°C·h', 'heat that counts then', 0.5, 4);
export const heatDoseKh = assumed(6, '°C·h', 'heat that counts below that', 3, 12);

// A weak nuc, a strong one.
export const weakInBandPct = assumed(
  40,
  '%',
  'share of a day in the band, at most, of a nuc too weak for its brood',
  20,
  60,
);
export const heldInBandPct = assumed(
  60,
  '%',
  'share of a day in the band from which it is strong enough again',
  50,
  80,
);
export const weakFollowsShare = assumed(
  0.3,
  '1',
  'so far a nest follows the weather that too few bees warm',
  0.15,
  0.5,
);
export const strongFrames = assumed(
  4.5,
  'frames of bees',
  'from here on a nuc is strong for a bought queen: two to three frames are wanted (common practice)',
  3.5,
  6,
);
export const strongNoMoreFrames = assumed(4, 'frames of bees', 'under this it is strong no longer', 3, 5);

// Stores.
export const storesTellDays = assumed(7, 'd', 'stores for so long: feed at the next visit', 4, 10);
export const storesUrgentDays = assumed(2.5, 'd', 'stores for so long: feed today', 1, 4);
export const storesEnoughDays = assumed(9, 'd', 'stores for so long are enough again', 7, 14);
export const storesLeastG = assumed(600, 'g', 'stores that are few whatever a nuc eats', 300, 1500);
export const robbedDays = assumed(2, 'd', 'days of robbers’ loss that are no foragers’ drift', 2, 3);

// A nest that is unlike what its stage or its batch lets expect.
export const steadyNestFromC = assumed(33.5, 'Cel', 'level of a nest that is held warm for brood', 33, 34.5);
export const steadyAgainDays = assumed(
  12,
  'd',
  'so long after the release a nest with a laying queen is steady',
  9,
  18,
);
export const nucsDifferK = assumed(0.7, 'K', 'two probes of nucs alike differ by as much in level', 0.4, 1.2);
export const nucsDifferSpreadK = assumed(1, 'K', 'and in the spread of a day', 0.5, 2);
