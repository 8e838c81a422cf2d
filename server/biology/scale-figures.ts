/** What a scale under a nuc shows: what the weight signals reckon with, and nobody states. */
import { assumed } from './figure.ts';

// Faults, hands and gusts.
export const weightSpikeG = assumed(
  60,
  'g',
  'a single reading this far off is a fault: bees come and go by tenths of a gram',
  40,
  100,
);
export const temperatureSpikeK = assumed(1.5, 'K', 'the same of a probe in a nest', 1, 3);
export const nestTemperatureRangeC = assumed(
  20,
  'Cel',
  'a probe at a hive reads nothing beyond the ends',
  -30,
  60,
);
export const disturbanceG = assumed(
  80,
  'g',
  'a jump of the medians that is more than wind and bees',
  50,
  150,
);
export const scaleNoiseG = assumed(4, 'g', 'noise of a scale’s reading, at least', 1, 10);
export const stepG = assumed(
  150,
  'g',
  'least lasting change that is told: a frame, feed, a brood comb',
  100,
  200,
);
export const openedG = assumed(350, 'g', 'least change while it lasts that says a lid was off', 200, 600);
export const noGustG = assumed(1000, 'g', 'no gust pulls or presses like this: a hand does', 600, 2000);
export const visitGapMinutes = assumed(20, 'min', 'jumps nearer to each other are one visit', 10, 40);
export const handMinutes = assumed(
  4,
  'min',
  'a fall that takes longer is no hand: bees leave together within 10-40 min',
  2,
  8,
);
export const homecomingMinutes = assumed(
  20,
  'min',
  'a gain that takes longer is no hand: bees come home within the hour',
  10,
  40,
);
export const logReachMinutes = assumed(
  45,
  'min',
  'readings this near to a logged event may be its doing',
  20,
  90,
);
export const nearStepMinutes = assumed(30, 'min', 'what lies this near to a step is of the step', 15, 60);
export const unseenGPerH = assumed(
  80,
  'g/h',
  'weight that bees and weather may move in an hour without readings',
  40,
  150,
);
export const goneShare = assumed(
  0.05,
  '1',
  'share of its weight under which the box is gone from its scale',
  0.02,
  0.15,
);
export const toppledShare = assumed(
  0.5,
  '1',
  'share of its weight that it loses where it has toppled',
  0.3,
  0.8,
);
export const liftedShare = assumed(
  0.85,
  '1',
  'share of its weight that the scale loses while it is lifted',
  0.7,
  0.95,
);
export const weightSlopeGPerH = assumed(25, 'g/h', 'slope of a nuc’s weight over an hour or two', 10, 50);
export const departureG = assumed(
  20,
  'g',
  'fall under the night’s line that is a departure: some hundred bees',
  10,
  40,
);

// Bees that leave together, and robbing.
export const departureShare = assumed(
  0.35,
  '1',
  'share of the bees in the box that leave in a mass, at least',
  0.2,
  0.5,
);
export const departureSureShare = assumed(
  0.4,
  '1',
  'share of all bees that there can be which is never out at once: so many that leave are no foragers',
  0.3,
  0.5,
);
export const departureBackShare = assumed(
  0.4,
  '1',
  'share of a loss that is back within the hour and a half: no departure',
  0.25,
  0.5,
);
export const departureBackLaterShare = assumed(0.6, '1', 'the same until the next day', 0.4, 0.8);
export const departureMinutes = assumed(60, 'min', 'a mass has left within this', 20, 90);
export const standingHours = assumed(
  6,
  'h',
  'so long the level stood higher: what came an hour ago and went again is no loss',
  3,
  12,
);
export const departureCoolsHours = assumed(6, 'h', 'the brood cools within so long of a departure', 3, 12);
export const departureCoolsK = assumed(0.5, 'K', 'by so much at least', 0.3, 1);
export const handCoolsAtMostK = assumed(
  1,
  'K',
  'a nest that was opened is warm again an hour later; one that its bees left is not',
  0.5,
  2,
);
export const robbingTimesUsual = assumed(3, '1', 'a robbed day’s loss, as a multiple of its own most', 2, 5);

// What moves a scale beside foragers that leave.
export const flightOfMoveDay = assumed(
  0.3,
  'd',
  'a split is moved by day: its flight lies so long after it',
  0.1,
  0.6,
);
export const beesWeightErrorG = assumed(
  200,
  'g',
  'error of the bees’ weight where nobody counted, and of brood and comb',
  100,
  400,
);
export const tareError = assumed(0.02, '1', 'an empty box takes up water: share of its weight', 0.01, 0.05);
export const handledMinutes = assumed(12, 'min', 'a lid off and a box moved show for so long', 5, 20);
export const noFlightHours = assumed(
  0.5,
  'h of full flight',
  'with less flight nobody can have flown home',
  0.2,
  1,
);
export const flyingDayHours = assumed(2, 'h of full flight', 'a day with so much is a flying day', 1, 4);
export const departureBackMinutes = assumed(90, 'min', 'what is back by then was out to forage', 45, 180);
export const departureBackHours = assumed(
  24,
  'h',
  'what comes back by then was no departure, or was put on again',
  12,
  36,
);
export const departureUnderShare = assumed(
  0.5,
  '1',
  'share of a loss that lies under the hours before it',
  0.3,
  0.8,
);
export const restlessAtLeastG = assumed(
  15,
  'g',
  'without a thermometer no scale is calmer from day to day',
  8,
  30,
);
export const firstBlurG = assumed(
  13,
  'g',
  'blur in the first hours: the old bees are home, the box stands as it was set down',
  5,
  25,
);
export const firstBlurHours = assumed(6, 'h', 'it grows to that of other days over so long', 3, 12);
export const sunBlurHours = assumed(6, 'h', 'blur by the sun goes together for so long', 3, 12);
export const visitChangeG = assumed(40, 'g', 'a visit that left no step may have changed so much', 15, 80);
export const stepErrorG = assumed(10, 'g', 'a step may be off by so much beside its own error', 4, 20);
export const nobodyLeftChance = assumed(
  0.05,
  '1',
  'chance that nobody left, from which that is said instead of gone',
  0.02,
  0.12,
);
export const flightOutMinutes = assumed(
  15,
  'min',
  'no hand takes so long from one level to the other: bees fly out or come home',
  8,
  30,
);
export const fewestSettledHives = assumed(3, 'hives', 'fewer do not tell what is usual at a place', 2, 5);
export const handledInHourKg = assumed(
  0.15,
  'kg',
  'further from the others in an hour moves a settled hive only by a hand',
  0.08,
  0.3,
);
export const unwatchedHours = assumed(
  6,
  'h',
  'over a longer silence nobody knows what was done to a hive',
  3,
  12,
);
