/** What is believed before the scale is looked at: of the foragers that leave, and of all else that moves a weight. */
import { highEnd, lowEnd, type Figure } from '../../biology/figure.ts';
import { beesPerFrame } from '../../biology/thermal-figures.ts';
import { foragerBodyG, loadCellDriftGPerK } from '../../biology/weight-figures.ts';

/** A figure before any reading, with its standard deviation between nucs. */
export interface Belief {
  readonly mean: number;
  readonly sd: number;
}

/** How restless a scale with a nuc on it is; which it is, the readings tell. */
export interface Restless {
  /** Wandering of the zero point in a day, g: a random walk. */
  readonly wanderG: number;
  /** By how much what a day takes or brings differs from other days, g; it comes evenly over the day. */
  readonly dayG: number;
  /** Blur of rows by day, g at a high sun; it goes together for hours. */
  readonly blurG: number;
  /** Chance before any reading. */
  readonly weight: number;
}

export interface DriftBeliefs {
  /** Eaten and breathed off an hour by each 1,000 bees of the split. */
  readonly eatenGPerHPer1000: Belief;
  /** More or less eaten for each kelvin of outside temperature. */
  readonly warmthGPerKh: Belief;
  readonly scaleGPerK: Belief;
  /** Nectar less losses afield, g an hour of full flight, once new foragers fly; spread between nucs and between days. */
  readonly income: Belief & { readonly daySd: number };
  /** Water that a wet roof holds: half a millimetre on a sixth of a square metre, and how far the drying may be off. */
  readonly roofG: Belief & { readonly dryingShare: number };
  /** Bees of the nuc's own that are out in full flight, once new foragers have grown up, g. */
  readonly afieldG: Belief;
  /** How much of the median change of the settled hives beside it is the nuc's own as well. */
  readonly settled: Belief;
  /** The first is what the first look goes by. */
  readonly restless: readonly [Restless, ...Restless[]];
}

const spread = (figure: Figure): number => (highEnd(figure) - lowEnd(figure)) / 3.3;

export const driftBeliefs: DriftBeliefs = {
  // 11 mg of sugar a bee and day (8-20) are 0.6 g of honey an hour (0.4-1); brood, and bees that have left, on either side.
  eatenGPerHPer1000: { mean: 0.6, sd: 0.5 },
  warmthGPerKh: { mean: 0.1, sd: 0.15 },
  scaleGPerK: { mean: loadCellDriftGPerK.value, sd: spread(loadCellDriftGPerK) },
  income: { mean: 2, sd: 4, daySd: 1.5 },
  roofG: { mean: 80, sd: 40, dryingShare: 0.15 },
  afieldG: { mean: 20, sd: 12 },
  settled: { mean: 0.7, sd: 0.2 },
  // A good cell under a small nuc wanders by 7-11 g a √day; hives on real scales by 29-55, most of it from one day to the next.
  restless: [
    { wanderG: 12, dayG: 18, blurG: 40, weight: 0.45 },
    { wanderG: 8, dayG: 6, blurG: 15, weight: 0.2 },
    { wanderG: 20, dayG: 45, blurG: 100, weight: 0.35 },
  ],
};

export interface DriftPrior extends PriorMass {
  /** Weight κ of the law of leaving against what is seen: large trusts it, small does not. */
  readonly curveWeight: number;
}

interface PriorMass {
  /** Bees at the split. */
  readonly bees: number;
  /** Mass of all who will leave, g. */
  readonly massG: number;
  readonly massSd: number;
}

/** A split of mostly nurse bees loses a tenth, one shaken from outer frames more than half: four in ten, give or take four fifths. */
const leavingShare: Belief = { mean: 0.4, sd: 0.32 };
/** Where the frames are not entered, next to nothing is known. */
const unknownMass: PriorMass = { bees: 6500, massG: 300, massSd: 240 };

/** Mass that may leave, by the keeper's count of frames, g. */
export function priorMass(framesOfBees: number | undefined): PriorMass {
  if (framesOfBees === undefined) return unknownMass;
  const bees = framesOfBees * beesPerFrame.value;
  const beesG = bees * foragerBodyG.value;
  return { bees, massG: beesG * leavingShare.mean, massSd: beesG * leavingShare.sd };
}
