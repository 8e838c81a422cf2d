/** What is believed before the scale is looked at: of the foragers that leave, and of all else that moves a weight. */
import { z90 } from '../statistics/intervals.ts';
import { roofWaterG } from '../../biology/assumed-figures.ts';
import {
  bringDaySdG,
  eatenGPerHPer1000,
  eatenMoreWhenWarm,
  leavingShare,
  newForagersBringG,
  ownAfieldG,
  restlessScales,
  roofDryingOff,
  roofInRainOff,
  roofSpreadG,
  settledInCommon,
  settledTraffic,
  unknownLeavingG,
  unknownSplitBees,
  type Restless,
} from '../../biology/drift-figures.ts';
import { highEnd, lowEnd, type Figure } from '../../biology/figure.ts';
import { beesPerFrame } from '../../biology/thermal-figures.ts';
import { foragerBodyG, loadCellDriftGPerK } from '../../biology/weight-figures.ts';

/** A figure before any reading, with its standard deviation between nucs. */
export interface Belief {
  readonly mean: number;
  readonly sd: number;
}

export interface DriftBeliefs {
  /** Eaten and breathed off an hour by each 1,000 bees of the split. */
  readonly eatenGPerHPer1000: Belief;
  /** More or less eaten for each kelvin of outside temperature. */
  readonly warmthGPerKh: Belief;
  readonly scaleGPerK: Belief;
  /** Nectar less losses afield, g an hour of full flight, once new foragers fly; spread between nucs and between days. */
  readonly income: Belief & { readonly daySd: number };
  /** Water that a wet roof holds, how far the drying may be off, and how far all of it while it rains. */
  readonly roofG: Belief & { readonly dryingShare: number; readonly rainShare: number };
  /** Bees of the nuc's own that are out in full flight, once new foragers have grown up, g. */
  readonly afieldG: Belief;
  /** How much of the median change of the settled hives beside it is the nuc's own as well. */
  readonly settled: Belief;
  /** And of what they lose and gain within a day. */
  readonly settledInDay: Belief;
  /** The first is what the first look goes by. */
  readonly restless: readonly [Restless, ...Restless[]];
}

/** A figure's spread holds nine cases in ten. */
const belief = (figure: Figure): Belief => ({
  mean: figure.value,
  sd: (highEnd(figure) - lowEnd(figure)) / (2 * z90),
});

export const driftBeliefs: DriftBeliefs = {
  eatenGPerHPer1000: belief(eatenGPerHPer1000),
  warmthGPerKh: belief(eatenMoreWhenWarm),
  scaleGPerK: belief(loadCellDriftGPerK),
  income: { ...belief(newForagersBringG), daySd: bringDaySdG.value },
  roofG: {
    mean: roofWaterG.value,
    sd: roofSpreadG.value,
    dryingShare: roofDryingOff.value,
    rainShare: roofInRainOff.value,
  },
  afieldG: belief(ownAfieldG),
  settled: belief(settledInCommon),
  settledInDay: belief(settledTraffic),
  restless: restlessScales,
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

/** Mass that may leave, by the keeper's count of frames, g. */
export function priorMass(framesOfBees: number | undefined): PriorMass {
  const [known, share] = [belief(unknownLeavingG), belief(leavingShare)];
  if (framesOfBees === undefined)
    return { bees: unknownSplitBees.value, massG: known.mean, massSd: known.sd };
  const bees = framesOfBees * beesPerFrame.value;
  const beesG = bees * foragerBodyG.value;
  return { bees, massG: beesG * share.mean, massSd: beesG * share.sd };
}
