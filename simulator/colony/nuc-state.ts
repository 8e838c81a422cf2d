/** The state of a nuc between two minutes, and its start on the day of the split. */
import { adultsOfSplit, type Adults } from './adults.ts';
import { broodMassG, broodOfSplit, countBrood, type Brood } from './brood.ts';
import { beesPerFrame, cellsPerFrame } from '../constants.ts';
import { oldForagers, stillHere, type OldForagers } from './homing.ts';
import { emptyLedger, type Ledger } from './ledger.ts';
import type { NucParameters } from '../parameters.ts';
import { rngFor } from '../random.ts';
import type { Warmth } from './thermal.ts';

export interface NucState {
  readonly p: NucParameters;
  readonly ledger: Ledger;
  readonly adults: Adults;
  readonly old: OldForagers;
  /** Old foragers that flew home, without those that left with a colony that absconds. */
  drifted: number;
  readonly warmth: Warmth;
  readonly brood: Brood;
  tareG: number;
  storesG: number;
  /** Water of fresh nectar, still to be evaporated. */
  nectarWaterG: number;
  broodG: number;
  cells: { eggs: number; open: number; sealed: number };
  emerged: number;
  /** What the brood breathes out in this hour and has not yet. */
  breathG: number;
  breathPerMinG: number;
  /** Gathered over the hour: °C·h under the brood's limit, development, flight. */
  chillCh: number;
  developedDays: number;
  flownH: number;
  /** What the field gives today, as a share of the nuc's usual. */
  fieldToday: number;
  layingSinceMin: number | null;
  robbing: { readonly untilMin: number; readonly gPerHour: number } | null;
  driftingIn: { readonly untilMin: number; readonly beesPerFlightHour: number } | null;
  absconding: { readonly untilMin: number; readonly shareAMinute: number } | null;
  starved: boolean;
}

export function startNuc(seed: number, p: NucParameters, outsideC: number): NucState {
  const rng = rngFor(seed, 'split');
  const count = Math.round(p.framesOfBees * beesPerFrame * p.beesPerFrameFactor);
  const { adults, old } = adultsOfSplit(rng, count, p.oldForagerShare);
  const perFrame = cellsPerFrame * p.broodFill;
  const brood = broodOfSplit(rng, p.framesOfOpenBrood * perFrame, p.framesOfSealedBrood * perFrame);
  return {
    p,
    ledger: emptyLedger(),
    adults,
    old: oldForagers(rngFor(seed, 'homing'), old, p.homingHours, p.bodyG),
    drifted: 0,
    // Combs fresh out of a warm hive, somewhat cooled on the way.
    warmth: { nestC: 33, boxC: (33 + outsideC) / 2 },
    brood,
    tareG: p.tareG,
    storesG: p.storesG,
    nectarWaterG: 0,
    broodG: broodMassG(brood, p.bodyG),
    cells: countBrood(brood),
    emerged: 0,
    breathG: 0,
    breathPerMinG: 0,
    chillCh: 0,
    developedDays: 0,
    flownH: 0,
    fieldToday: 1,
    layingSinceMin: null,
    robbing: null,
    driftingIn: null,
    absconding: null,
    starved: false,
  };
}

/** Adults in the box. */
export const beesAtHome = (nuc: NucState): number =>
  nuc.adults.house + nuc.adults.foragersHome + stillHere(nuc.old);

/** Everything in and of the box, g. */
export function boxMassG(nuc: NucState): number {
  const kinG = (nuc.adults.house + nuc.adults.foragersHome) * nuc.p.bodyG;
  const oldG = nuc.old.stillHereG[nuc.old.gone] ?? 0;
  return nuc.tareG + nuc.storesG + nuc.nectarWaterG + nuc.broodG + nuc.breathG + kinG + oldG;
}
