/** What hides the loss of foragers from a scale: then the mass can't be told, whatever the fit says. */
import { roofWaterG } from '../../biology/assumed-figures.ts';
import {
  largeSplitFrames,
  loadOfFeedG,
  mostLeavingShare,
  settledInCommon,
  strangeGainG,
} from '../../biology/drift-figures.ts';
import { foragerBodyG } from '../../biology/weight-figures.ts';
import { beesPerFrame } from '../../biology/thermal-figures.ts';
import { grams, say, type Sentence } from '../../words/phrase.ts';
import { bestOf, type DriftFit } from './drift-model.ts';
import type { DriftData, DriftRow } from './drift-rows.ts';
import { hourMs } from '../series.ts';
import { median } from '../statistics/robust.ts';
import type { KnownEvent, WeightStep } from '../types.ts';

/** Method: a fit that misses its rows by so many standard deviations is not believed. */
const badMisfitSd = 10;
/** Method: nor one that strains what is known before by so many. */
const badStrainSd = 3.5;
/** Method: rows of a night that tell its level. */
const leastRows = 3;
/** Method: hours without one that end a night. */
const nightOverHours = 6;
/** What is set right within the hour of the move belongs to it. */
const movingMs = hourMs;

export interface DriftHiddenInput {
  readonly movedAtMs: number;
  readonly untilMs: number;
  readonly events: readonly KnownEvent[];
  readonly steps: readonly WeightStep[];
  readonly framesOfBees?: number;
  /** What has left by the fit. */
  readonly goneG: number;
}

export interface LossHidden {
  readonly why: Sentence;
  /** Feed or nectar in it loses its water by night, while the air cools: that reads as a scale that follows the air. */
  readonly dries: boolean;
}

/** Why the loss can't be weighed; null where nothing stands against it. `gainedG` is what `mostGained` finds. */
export function lossHidden(
  input: DriftHiddenInput,
  fit: DriftFit,
  gainedG: () => number | null,
): LossHidden | null {
  const since = ({ atMs }: { readonly atMs: number }): boolean =>
    atMs > input.movedAtMs + movingMs && atMs <= input.untilMs;
  if (input.events.some((event) => event.kind === 'fed' && since(event)))
    return { why: 'it was fed after the move, which hides what left', dries: true };
  const load = input.steps.find((step) => since(step) && step.sizeG > loadOfFeedG.value && !step.explainedBy);
  if (load)
    return { why: say`${grams(load.sizeG)} were put on and not logged; log what it was`, dries: true };
  const gain = gainedG();
  if (gain !== null && gain > strangeGainG.value)
    return {
      why: say`it gained ${grams(gain)} from one night to the next, so feed, nectar or strange bees came in`,
      dries: true,
    };
  const beesG = (input.framesOfBees ?? largeSplitFrames.value) * beesPerFrame.value * foragerBodyG.value;
  if (input.goneG > mostLeavingShare.value * beesG)
    return {
      why: 'it lost more than its foragers can weigh, so honey may have been carried off',
      dries: false,
    };
  return fit.misfitSd > badMisfitSd || fit.strainSd > badStrainSd
    ? {
        why: 'the weight moves more than foragers explain; nectar, robbers, or something that leans on the box',
        dries: false,
      }
    : null;
}

/** Largest gain from one night's end to the next, with the scale's own drift, the roof and the settled hives taken off, g. */
export function mostGained({ rows, outsideC, settledG }: DriftData, fit: DriftFit): number | null {
  const best = bestOf(fit.candidates);
  if (!best) return null;
  const outside = outsideC.get(best.lagMs);
  const level = (row: DriftRow, i: number): number =>
    row.weightG -
    best.driftGPerK * ((outside?.[i] as number) || 0) -
    roofWaterG.value * row.wet -
    settledInCommon.value * ((settledG[i] as number) || 0);
  const nights: number[][] = [];
  let lastMs = -Infinity;
  rows.forEach((row, i) => {
    if (!row.quiet || row.raining) return;
    if (row.atMs - lastMs > nightOverHours * hourMs) nights.push([]);
    nights.at(-1)?.push(level(row, i));
    lastMs = row.atMs;
  });
  const ends = nights
    .filter((night) => night.length >= leastRows)
    .map((night) => median(night.slice(-leastRows)));
  return ends.length < 2 ? null : Math.max(...ends.slice(1).map((g, k) => g - (ends[k] as number)));
}
