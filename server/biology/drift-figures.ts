/** What is believed, before a scale is looked at, of the foragers that leave a moved split and of all else that moves its weight. */
import { assumed, type Figure } from './figure.ts';

/** Share of a split’s bees that flies home. */
export const leavingShare = assumed(
  0.4,
  '1',
  'a split of mostly nurse bees loses a tenth, one shaken from outer frames more than half',
  0,
  1,
);
export const unknownLeavingG = assumed(300, 'g', 'foragers of a split whose frames were not counted', 0, 700);
export const unknownSplitBees = assumed(6500, 'bees', 'a split whose frames were not counted', 2000, 14_000);
/** More can’t be old enough to know the parent’s stand. */
export const mostLeavingShare = assumed(0.75, '1', 'the most that leaves a split', 0.6, 0.9);
export const largeSplitFrames = assumed(8, 'frames of bees', 'a large split', 6, 10);
export const leastLeavingShare = assumed(
  0.03,
  '1',
  'fewer foragers than this among all bees may be none: no scale under a nuc can tell',
  0.01,
  0.1,
);

/** How unequal bees are in their readiness to fly home: shape of the gamma mixture. Large is equal. */
export const unequalReadiness = assumed(8, '1', 'bees differ in their readiness by a third of it', 2, 20);
/** Eaten and breathed off by each 1,000 bees. */
export const eatenGPerHPer1000: Figure = {
  value: 0.6,
  low: -0.2,
  high: 1.4,
  unit: 'g/h',
  source:
    'arithmetic: 11 mg of sugar a bee and day (8-20) are 0.6 g of honey an hour (0.4-1); brood, and bees that have left, on either side',
  basis: 'derived',
};
export const eatenMoreWhenWarm = assumed(
  0.1,
  'g/(K·h)',
  'a nuc eats a little more or less with warmth',
  -0.15,
  0.35,
);
/** Nectar less losses afield, of new foragers. */
export const newForagersBringG = assumed(
  2,
  'g/h of full flight',
  'what new foragers bring, less losses',
  -4.5,
  8.5,
);
export const bringDaySdG = assumed(
  1.5,
  'g/h of full flight',
  'days differ in what new foragers bring',
  0.5,
  4,
);
export const ownAfieldG = assumed(20, 'g', 'bees of the nuc’s own that are out in full flight', 0, 40);
/** How much of the usual change of settled hives beside it is the nuc’s own as well. */
export const settledInCommon = assumed(0.7, '1', 'scales at one place share most of their change', 0.35, 1);
export const settledAloneG = assumed(
  20,
  'g a day',
  'what each hive gains or loses unlike its neighbours',
  5,
  40,
);
export const settledTraffic = assumed(
  0.25,
  '1',
  'a split has a quarter of the traffic of a full hive, more or less',
  -0.1,
  0.6,
);
export const roofSpreadG = assumed(40, 'g', 'roofs differ in the water that they hold', 20, 60);
export const roofDryingOff = assumed(0.15, '1', 'a roof dries so much faster or slower', 0.05, 0.3);

export const roofInRainOff = assumed(
  0.5,
  '1',
  'share of a roof’s water that is not known while it rains',
  0.25,
  1,
);

/** How restless a scale with a nuc on it is; which of these it is, the readings tell. */
export interface Restless {
  /** Wandering of the zero point, of the sun’s, and of what is eaten, g a √day: a random walk. */
  readonly wanderG: number;
  /** By how much what a day takes or brings differs from other days, g; it comes evenly over the day. */
  readonly dayG: number;
  /** Blur of rows by day, g at a high sun; it goes together for hours. */
  readonly blurG: number;
  /** Chance before any reading. */
  readonly weight: number;
}

/**
 * Assumed: a good cell under a small nuc wanders by 7-11 g a √day, hives on real scales by 29-55, most of it day by day. How much
 * a scale wanders says nothing of how the sun and the bees blur it by day.
 */
export const restlessScales: readonly [Restless, ...Restless[]] = [
  { wanderG: 14, dayG: 28, blurG: 30, weight: 0.15 },
  { wanderG: 8, dayG: 6, blurG: 15, weight: 0.15 },
  { wanderG: 25, dayG: 25, blurG: 15, weight: 0.15 },
  { wanderG: 20, dayG: 45, blurG: 30, weight: 0.25 },
  { wanderG: 20, dayG: 45, blurG: 100, weight: 0.3 },
];

/** A law of warmth: no flight up to the first temperature, from the second on warmth no longer holds it back, °C. */
export type WarmthLaw = readonly [number, number];

/** Chance of the usual law of warmth (from 12 to 20 °C) before any reading; the others share the rest. */
export const usualWarmthLaw = assumed(0.4, '1', 'that bees fly by the usual law of warmth', 0.2, 0.7);
/**
 * Where no thermometer tells, the first days may have been too cold: chance that they were not, and the days from which
 * on bees flew otherwise.
 */
export const flownFromTheMove = assumed(
  0.7,
  '1',
  'that it was warm enough from the day of the move on, where nobody measured it',
  0.5,
  0.9,
);
export const flownFromDays: readonly number[] = [1, 2, 3, 5];
/**
 * From memory: colonies, races and the sun at the entrance differ by some kelvin. Bees that fly in the cool, as soon as
 * it is warm, late.
 */
export const otherWarmthLaws: readonly WarmthLaw[] = [
  [10, 15],
  [14, 21],
];

/** More than a split of young bees gathers in a day, and than a good scale wanders. */
export const strangeGainG = assumed(80, 'g', 'a gain of a night and a day that is no split’s own', 50, 150);
export const loadOfFeedG = assumed(150, 'g', 'a load that nobody logged, and that may be feed', 100, 500);
