/** What makes one nuc differ from another: every drawn quantity with its range, and the draw. */
import type { Rng } from './random.ts';

/** Ranges `[low, high]`, drawn evenly. */
export const usualRanges = {
  /** Frames of bees when the split was made. */
  framesOfBees: [2, 4.5],
  /** Bees on a frame against the published mean. */
  beesPerFrameFactor: [0.85, 1.15],
  /** Adults that know the old stand. */
  oldForagerShare: [0.2, 0.35],
  /** Mean flight hours at full activity until one of them is gone. */
  homingHours: [2, 8],
  bodyG: [0.09, 0.12],
  framesOfOpenBrood: [0.3, 1],
  framesOfSealedBrood: [0.4, 1.3],
  /** Share of a brood frame's cells that hold brood. */
  broodFill: [0.45, 0.75],
  storesG: [2500, 6000],
  /** Box, floor, lid, frames and wax. */
  tareG: [5500, 9500],
  /** Nectar in the field: 0 dearth, 1 a flow that fills every load. */
  nectarFlow: [0, 0.7],
  foragerDeathPerDay: [0.08, 0.15],
  /** Most heat that a bee keeps up for hours, W. */
  heatWPerBee: [0.0035, 0.0055],
  flightThresholdC: [11, 13.5],
  wallWPerK: [0.55, 1.1],
  mantleWPerK: [0.55, 1],
  nestJPerK: [4500, 8000],
  boxJPerK: [7000, 14000],
  sunM2: [0.001, 0.01],
  /** Wandering of the set point with brood, K. */
  setWanderC: [0.15, 0.4],
  // Site and weather
  latDeg: [42, 56],
  warmerC: [-5, 1.5],
  frontSdC: [1.5, 3],
  heatingKPerWm2: [0.011, 0.021],
  cloudiness: [0.25, 0.65],
  showersPerDay: [0.5, 5],
  windMs: [0.8, 3],
  // Scale
  scaleNoiseG: [5, 20],
  /** Drift of the load cell with temperature; half of the cells drift the other way. */
  scaleDriftGPerK: [3, 8],
  /** Lag of the load cell behind the air. */
  scaleLagMin: [20, 150],
  /** Creep after a change of load, share of the change. */
  creepShare: [0.0001, 0.0006],
  creepMin: [15, 40],
  /** Slow wandering of the zero, g over a day. */
  zeroWanderG: [0.5, 4],
  /** Water that the roof holds before it runs off. */
  roofHoldsG: [30, 150],
  roofM2: [0.12, 0.22],
  /** Extra noise per (m/s)² of wind. */
  windNoiseG: [0.1, 1],
  /** Chance of a spike in one reading. */
  spikeChance: [0.0003, 0.002],
  // Probes
  /** How much of the nest's warmth the brood probe sees; the rest is the box. */
  broodProbeInNest: [0.94, 1],
  /** The same for the cage, which hangs between two frames. */
  cageInNest: [0.55, 0.95],
  probeOffsetC: [-0.3, 0.3],
  /** Warming of the outside probe by full sun. */
  outsideSunC: [0.5, 6],
  // Delivery
  /** Share of the readings that never arrive, in gaps. */
  gapShare: [0.02, 0.12],
  duplicateShare: [0, 0.02],
  /** Chance a day of a late batch, and of a reboot with a wrong clock. */
  lateBatchesPerDay: [0, 0.15],
  wrongClocksPerDay: [0, 0.03],
  // Later additions stand last, so that all before them are drawn as they were.
  /** Warmth at which nothing but light, rain and wind holds flight back, °C. */
  flightFullC: [20, 20],
  /** How much warmer the sun makes it for a bee at the entrance, K per W/m². */
  flightSunKPerWm2: [0, 0],
  /** How much one day's nectar differs from another's: standard deviation of its logarithm. */
  nectarDaySpread: [0, 0],
} as const satisfies Record<string, readonly [number, number]>;

type ParameterName = keyof typeof usualRanges;
export type NucParameters = { readonly [name in ParameterName]: number };
export type Ranges = { readonly [name in ParameterName]: readonly [number, number] };

/**
 * Ranges that no estimator may have been tuned on: other strengths, boxes, weather and sensors. Fixed before any
 * estimator was tried on them.
 */
export const unseenRanges: Ranges = {
  ...usualRanges,
  framesOfBees: [1.75, 5],
  beesPerFrameFactor: [0.8, 1.25],
  oldForagerShare: [0.17, 0.4],
  homingHours: [1.6, 9],
  bodyG: [0.088, 0.124],
  broodFill: [0.35, 0.8],
  storesG: [2000, 7500],
  tareG: [4500, 11000],
  nectarFlow: [0, 0.9],
  flightThresholdC: [10.5, 14],
  wallWPerK: [0.45, 1.25],
  mantleWPerK: [0.5, 1.1],
  sunM2: [0.0005, 0.014],
  latDeg: [40, 58],
  warmerC: [-6, 3],
  frontSdC: [1.2, 3.6],
  heatingKPerWm2: [0.009, 0.024],
  cloudiness: [0.2, 0.7],
  showersPerDay: [0.3, 6],
  scaleNoiseG: [4, 22],
  scaleDriftGPerK: [2.5, 9],
  scaleLagMin: [15, 180],
  creepShare: [0.0001, 0.0008],
  zeroWanderG: [0.5, 5],
  roofHoldsG: [20, 180],
  broodProbeInNest: [0.92, 1],
  outsideSunC: [0.3, 7],
  gapShare: [0.02, 0.14],
};

/**
 * Splits as keepers make them: five to seven frames of bees, most of them with a third to more than half old foragers, a
 * flow that differs from day to day by 15-20 g, and flight laws on either side of the usual one.
 */
export const practiceRanges: Ranges = {
  ...usualRanges,
  framesOfBees: [5, 7],
  oldForagerShare: [0.35, 0.6],
  framesOfOpenBrood: [0.8, 2],
  framesOfSealedBrood: [1, 2.5],
  storesG: [3000, 8000],
  nectarFlow: [0.05, 0.5],
  flightThresholdC: [10, 14],
  flightFullC: [15, 21],
  flightSunKPerWm2: [0, 0.004],
  zeroWanderG: [2, 12],
  nectarDaySpread: [0.3, 0.6],
};

export const settings = { usual: usualRanges, unseen: unseenRanges, practice: practiceRanges } as const;
export type SettingName = keyof typeof settings;

/** Draws one nuc's parameters in a fixed order, then lets `fixed` override. */
export function drawParameters(rng: Rng, ranges: Ranges, fixed: Partial<NucParameters> = {}): NucParameters {
  const drawn: Record<string, number> = {};
  for (const [name, [low, high]] of Object.entries(ranges)) drawn[name] = rng.between(low, high);
  return { ...(drawn as NucParameters), ...fixed };
}
