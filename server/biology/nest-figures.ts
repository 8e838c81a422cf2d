/** How a nest and a probe in it behave: what the temperature signals reckon with, and nobody states. */
import { assumed } from './figure.ts';

// A steady nest, and one that no longer is.
export const probeAtEdgeK = assumed(0.5, 'K', 'a probe may sit at the edge of the brood', 0, 1);
export const nestMemoryHours = assumed(
  3,
  'h',
  'brood temperature follows itself: readings this far apart count as separate',
  1,
  6,
);
export const steadySpreadK = assumed(
  1.8,
  'K',
  'spread of a steady day, its 90th less its 10th percentile',
  1.2,
  2.5,
);
export const steadyDays = assumed(3, 'd', 'steady days in a row that agree with new brood', 2, 5);
export const steadyNotBeforeDays = assumed(
  5,
  'd',
  'let out, she lays after some days: before it nothing can show',
  3,
  8,
);
export const usualSpreadK = assumed(
  1.2,
  'K',
  'spread of a day of a nest with brood, where its own is not known',
  0.6,
  2,
);
export const failedSwingK = assumed(
  3,
  'K',
  'spread of a day that shows a nest which is held warm no longer',
  2,
  5,
);
export const failedSwingTimes = assumed(2.5, '1', 'the same, as a multiple of its own usual spread', 2, 4);
export const failedColdK = assumed(
  3,
  'K',
  'so far under its own level falls a nest that is held warm no longer',
  2,
  5,
);
export const failedInBandShare = assumed(
  0.4,
  '1',
  'share of a day in the band under which the nest failed',
  0.25,
  0.5,
);
export const heldInBandShare = assumed(
  0.6,
  '1',
  'share of a day in the band from which the nest is held warm',
  0.5,
  0.8,
);
export const heldSpreadK = assumed(2.5, 'K', 'spread of a day up to which the nest is held warm', 2, 3.5);
export const failedDays = assumed(2, 'd', 'days in a row without regulation that make a failing', 2, 3);
export const heldDays = assumed(3, 'd', 'regulated days before a failing that show what was usual', 2, 5);
export const probeMovedWithinDays = assumed(
  3,
  'd',
  'a visit that moved the probe explains what begins so near to it',
  1,
  3,
);
export const nestShiftK = assumed(1, 'K', 'a shift of the nest’s level that matters', 0.5, 2);
export const nestDaysSdK = assumed(
  0.4,
  'K',
  'scatter of a well nest’s days, at least: open series drift by 0.3-0.5 K',
  0.2,
  0.6,
);
export const followedSwingK = assumed(
  3,
  'K',
  'swing of the outside without which nobody can tell whether the nest follows it',
  2,
  5,
);

// Where the probe lies.
export const probeMoveJumpK = assumed(
  1.5,
  'K',
  'a level that moves by so much across a visit: the probe was moved',
  1,
  2.5,
);
export const suddenFallK = assumed(
  3,
  'K',
  'combs and bees cool by 1-3 K an hour even when heating stops (simulated): more in half an hour is a probe that slipped',
  2,
  5,
);
export const suddenFallMinutes = assumed(35, 'min', 'the time of that fall: two or three readings', 20, 60);
export const heldWarmthShare = assumed(
  0.7,
  '1',
  'share of the warmth above the outside held before, under which cold is no explanation',
  0.5,
  0.8,
);
export const heldWarmthHours = assumed(36, 'h', 'how far back that warmth was held', 24, 48);
export const littleWarmthHours = assumed(
  1,
  'h',
  'so long it must hold so little before the probe is in doubt',
  0.5,
  3,
);
export const coldForHours = assumed(
  24,
  'h',
  'so long cold for any other reason, and the probe is in doubt',
  12,
  48,
);
export const provenInNestHours = assumed(
  6,
  'h',
  'as warm as brood for so long without a break: a probe in the nest',
  3,
  12,
);
export const provenInNestShare = assumed(
  0.75,
  '1',
  'share of a day as warm as brood that shows the same',
  0.6,
  0.9,
);
export const outsideNestShare = assumed(
  0.4,
  '1',
  'share of two days as warm as brood under which the probe lies in no nest that is held warm',
  0.25,
  0.5,
);
export const coldsDoingShare = assumed(
  0.75,
  '1',
  'share of the usual warmth held that leaves cold as the explanation',
  0.6,
  0.9,
);
export const nestRiseK = assumed(
  0.5,
  'K',
  'a nest that rises so much warms up behind a morning that is faster',
  0.3,
  1,
);
export const nestRiseHours = assumed(2, 'h', 'the time of that rise', 1, 3);
export const boxLagHours = assumed(
  2,
  'h',
  'the box and what stands in it follow the outside this far behind',
  1,
  4,
);
export const combLagHours = assumed(
  8,
  'h',
  'combs, brood and stores of a nest whose bees heat as much as they can follow the outside this far behind',
  4,
  14,
);
export const cageInNestC = assumed(
  28,
  'Cel',
  'a probe at the cage that reads this warm hangs among the bees',
  24,
  32,
);

// Visits, falls and nights.
export const visitColdMinutes = assumed(60, 'min', 'cold of a visit is over by then', 30, 120);
export const visitInNightHours = assumed(3, 'h', 'a visit this near to a night tells in it', 1, 4);
export const logClockMinutes = assumed(
  30,
  'min',
  'the log’s clock is the keeper’s: so much it may be off',
  10,
  60,
);
export const fallThatCountsKPerH = assumed(
  0.15,
  'K/h',
  'a slower fall is the wandering of a nest',
  0.05,
  0.3,
);
export const fallGoesOnShare = assumed(
  0.7,
  '1',
  'of a fall of an hour and a half so much comes again in the next one and a half, in a nest of which nothing else is known',
  0.5,
  0.9,
);
export const fallKnownShare = assumed(
  0.05,
  '1',
  'so much more or less of it is a nest whose falls are known to go on, or to turn',
  0.02,
  0.1,
);
export const gaveWayK = assumed(2, 'K', 'so far under its level the nest has given way to the cold', 1, 3);
export const nightErrorK = assumed(1, 'K', 'error of the difference that one night shows', 0.5, 2);
export const strengthDriftKPerDay = assumed(
  0.7,
  'K/d',
  'what a nuc’s changing strength adds to it for each day',
  0.3,
  1.5,
);
export const heatPriorLogSd = assumed(
  0.5,
  '1',
  'spread of the heat budget, as a logarithm: a factor of 1.7',
  0.4,
  0.7,
);
export const heatPriorUncountedLogSd = assumed(
  0.7,
  '1',
  'the same where the bees were not counted: a factor of two',
  0.5,
  1,
);
export const oddNightShare = assumed(
  0.01,
  '1',
  'nights that are not what they seem: a lid ajar, a probe out of the nest',
  0.002,
  0.05,
);
export const levelErrorK = assumed(
  0.4,
  'K',
  'how the present level of a nest scatters about its usual one',
  0.2,
  0.8,
);
export const lowestErrorK = assumed(
  0.3,
  'K',
  'error of a night’s lowest where the nest holds, at least',
  0.1,
  0.6,
);
export const nestLevelMarginK = assumed(
  1,
  'K',
  'a reading so near to the band is of a nest that is held warm',
  0.5,
  1.5,
);
export const putBackHours = assumed(
  3,
  'h',
  'a probe put back among bees is warm so long after the visit',
  1,
  6,
);
export const putBackProvenHours = assumed(2, 'h', 'and shows it by so much of warmth', 1, 4);
export const outsideWithinK = assumed(
  2,
  'K',
  'a probe that lies outside reads within so little of the outside',
  1,
  3,
);
export const outsideAtOnceK = assumed(
  1,
  'K',
  'and follows it at once: a box, even an empty one, follows hours behind',
  0.5,
  2,
);
export const outsideSwingK = assumed(5, 'K', 'swing of the outside without which that can’t be told', 3, 8);
export const leftWithinHours = assumed(
  12,
  'h',
  'bees that leave together go within so long of the fall',
  6,
  24,
);
