/** Rules of introducing that practitioners state without a source. Calendar days unless the unit says hours. */
import type { Figure } from './figure.ts';

const practice = (value: number, unit: string, note: string, low?: number, high?: number): Figure => ({
  value,
  unit,
  note,
  source: 'common practice',
  basis: 'common-practice',
  ...(low === undefined ? {} : { low }),
  ...(high === undefined ? {} : { high }),
});

export const splitBeforeArrivalDays = practice(
  7,
  'd',
  'The split is made this long before the queen comes',
  6,
  7,
);
export const firstCutDay = practice(
  7,
  'd',
  'Cells are cut, and the cage hung, on this day after the split',
  7,
  8,
);
export const secondLookAfterDays = practice(
  3,
  'd',
  'What the first cut left is cut this long after it',
  2,
  4,
);
export const foragersLeaveDays = practice(3, 'd', 'In flying weather the old bees are gone by then', 1, 5);
export const cagedBeforeOpeningHours = practice(
  24,
  'h',
  'The cage hangs among the bees at least this long before its candy is opened, so that they can be watched on it',
  24,
  72,
);
export const candyEatenHours = practice(36, 'h', 'The bees are through the candy', 12, 72);
export const handsOffDays = practice(
  7,
  'd',
  'The nuc stays shut after the candy was opened; never under 3 full days',
  3,
  7,
);
export const pushInCageDays = practice(4, 'd', 'The queen lays under the mesh before it is lifted', 3, 5);
export const cageTimeDays = practice(7, 'd', 'Longest good time in a mailing cage', 5, 10);
export const queenWaitsDays = practice(
  1,
  'd',
  'A queen waits so long in her mailing cage, dark and warm, for a visit that is made anyway',
  1,
  2,
);
export const standMetres = practice(10, 'm', 'The queenless part stands at least this far from the parent');
export const homingRangeMetres = practice(
  4000,
  'm',
  'Beyond this foragers do not find their way back to the old stand',
  3000,
  5000,
);
export const framesForIntroduction = practice(
  2.5,
  'frames of bees',
  'Strength wanted for an introduction',
  2,
  3,
);
export const eggsSeenAfterDays = practice(
  7,
  'd',
  'Eggs are to be seen this long after a queen was released',
  3,
  14,
);
export const lookAgainForQueenDays = practice(
  4,
  'd',
  'A queen that was not found is looked for again this long after; not finding her is not losing her',
  4,
  5,
);
export const calmAfterBallingDays = practice(
  3,
  'd',
  'After a queen was balled the bees are watched on the cage again this long after, and only calm bees count',
  2,
  5,
);
export const layingWorkersClearedDays = practice(
  4,
  'd',
  'Two looks on every frame this long apart, longer than an egg lasts, that find no sign disprove laying workers',
  4,
  7,
);
export const lookWorthChance = practice(
  0.01,
  '1',
  'Chance of a rival below which a look on every frame is not worth its trouble in a visit that is made anyway',
  0.005,
  0.02,
);
export const rivalChanceLimit = practice(
  0.05,
  '1',
  'Chance of a rival above which she is not let out, unless the keeper sets another',
  0.01,
  0.1,
);
export const lookAgainForEggsDays = practice(
  4,
  'd',
  'Eggs that were not seen, or are in doubt, are looked for again',
  3,
  4,
);
export const searchesBeforeUniting = practice(
  3,
  'looks',
  'After so many looks that did not find her the nuc is united',
  2,
  4,
);
export const openBroodAheadDays = practice(
  7,
  'd',
  'Open brood is given so long before workers may lay, and where the queen comes no sooner than this: its cells are cut on day 7',
  5,
  9,
);
export const foragersGoneShare = practice(
  0.95,
  '1',
  'Nineteen of twenty foragers left: they count as gone, in signal, gate and alert alike',
  0.9,
  0.98,
);
export const nearlyGoneShare = practice(
  0.9,
  '1',
  'From here on a fit that moves a little may have said gone before',
  0.85,
  0.95,
);
export const openBroodBoxC = practice(
  12,
  'Cel',
  'From this warmth outside on brood frames are taken out for a whole inspection',
  10,
  15,
);
export const warmestHoursEndHour = practice(15, 'h', 'From this hour on a day gets no warmer', 14, 16);
