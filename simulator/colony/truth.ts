/** What truly happened in a simulated nuc, minute by minute, beside which an estimator's answer is laid. */
import type { TrueEvent } from '../happenings.ts';
import type { Ledger } from './ledger.ts';

/** All arrays hold one value a minute from `startMs` on, `minutes` long. */
export interface Truth {
  readonly startMs: number;
  readonly minutes: number;
  /** Flight activity, 0 to 1, and flight hours flown since the split. */
  readonly flight: Float32Array;
  readonly flightHours: Float64Array;
  readonly broodC: Float32Array;
  readonly boxC: Float32Array;
  readonly cageC: Float32Array;
  /** Heat that the bees make, W. */
  readonly heatW: Float32Array;
  /** Everything in and of the box, without water on the roof, g. */
  readonly boxMassG: Float64Array;
  readonly storesG: Float32Array;
  /** Adults in the box, and those afield that will come back to it. */
  readonly beesHome: Int32Array;
  readonly beesOut: Int32Array;
  /** Old foragers that have left for the parent's stand, since the split: number and mass. */
  readonly driftedBees: Int32Array;
  readonly driftedMassG: Float64Array;
  /** Old foragers in all: those that have left and those that still will. */
  readonly willDriftBees: number;
  readonly willDriftMassG: number;
  /** Box and bees at the split, before its first minute. */
  readonly atSplit: { readonly boxG: number; readonly bees: number };
  /** Mean mass of a worker of this nuc. */
  readonly bodyG: number;
  /** Cells of open and of sealed brood. */
  readonly openBrood: Int32Array;
  readonly sealedBrood: Int32Array;
  /** Bees that have emerged since the split. */
  readonly emerged: Int32Array;
  /** Water on the roof, g; filled by the scale. */
  readonly roofWaterG: Float32Array;
  readonly events: readonly TrueEvent[];
  readonly chill: readonly ChillInterval[];
  /** The brood so cold that a probe may read it under its limit (`probeErrorK`). */
  readonly close: readonly ChillInterval[];
  /** The brood so cold that any probe reads it under its limit, what counts from there on. */
  readonly sure: readonly ChillInterval[];
  readonly ledger: Readonly<Ledger>;
}

/** An unbroken time under the limit, while there was brood to chill or a queen in the cage. */
export interface ChillInterval {
  readonly what: 'brood' | 'cage';
  readonly limitC: number;
  readonly fromMs: number;
  /** First minute over the limit again, or the end of the run. */
  readonly toMs: number;
  readonly lowestC: number;
  readonly degreeHours: number;
  /** When its degree-hours passed one, two and so on up to twelve. */
  readonly passedMs: readonly number[];
}

export type MutableTruth = { -readonly [K in keyof Truth]: Truth[K] } & {
  ledger: Ledger;
  events: TrueEvent[];
};

export function emptyTruth(startMs: number, minutes: number, ledger: Ledger): MutableTruth {
  return {
    startMs,
    minutes,
    flight: new Float32Array(minutes),
    flightHours: new Float64Array(minutes),
    broodC: new Float32Array(minutes),
    boxC: new Float32Array(minutes),
    cageC: new Float32Array(minutes),
    heatW: new Float32Array(minutes),
    boxMassG: new Float64Array(minutes),
    storesG: new Float32Array(minutes),
    beesHome: new Int32Array(minutes),
    beesOut: new Int32Array(minutes),
    driftedBees: new Int32Array(minutes),
    driftedMassG: new Float64Array(minutes),
    willDriftBees: 0,
    willDriftMassG: 0,
    atSplit: { boxG: 0, bees: 0 },
    bodyG: 0,
    openBrood: new Int32Array(minutes),
    sealedBrood: new Int32Array(minutes),
    emerged: new Int32Array(minutes),
    roofWaterG: new Float32Array(minutes),
    events: [],
    chill: [],
    close: [],
    sure: [],
    ledger,
  };
}
