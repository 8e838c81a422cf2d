/** The columns of the drift's fit, and the candidates that are made of them. */
import { flightOfMoveDay } from '../../biology/scale-figures.ts';
import { unequalReadiness } from '../../biology/drift-figures.ts';
import { recruitmentPerDay, socialInhibition } from '../../biology/population-figures.ts';
import { highEnd, lowEnd } from '../../biology/figure.ts';
import { z90 } from '../statistics/intervals.ts';
import { homingFlightHours } from '../../biology/weight-figures.ts';
import type { DriftData, DriftRow } from './drift-rows.ts';

/** Method: the grid of flight hours over which fits are averaged. */
const driftTausH: readonly number[] = [0.8, 1.3, 2.1, 3.4, 5.5, 9];
/** Method: lags of the scale behind the outside that are tried. */
export const driftLagsMs: readonly number[] = [20, 50, 90, 150].map((minutes) => minutes * 60_000);
const unequal = unequalReadiness.value;
/** Method: sine modes of the curve's wandering that are kept: nine tenths of its variance. */
export const modes = 3;

/** Share gone after `flownH` flight hours by the law of a candidate. */
export const lawOfLeaving = (flownH: number, tauH: number): number =>
  1 - (1 + Math.max(0, flownH) / (unequal * tauH)) ** -unequal;

/** The modes of the bridge at a share of the law, each to be taken times its own weight. */
export const modeAt = (share: number, k: number): number => Math.sin((k + 1) * Math.PI * share);

/**
 * Bees of the nuc's own that have taken up foraging by the flight of a day, as a share of those who will in the end:
 * Khoury's colony without deaths, df/dt = (1 − f)(α − σ f) from f = 0, solved.
 */
export function newForagers(day: number): number {
  const inTheEnd = recruitmentPerDay.value / socialInhibition.value;
  const left = Math.exp(-(socialInhibition.value - recruitmentPerDay.value) * (day + flightOfMoveDay.value));
  return (1 - left) / (1 - inTheEnd * left);
}

/** Of the nuc's own traffic: none of its bees is afield when it is set down. */
const takenUp = (row: DriftRow): number => newForagers(row.flownByDay.findLastIndex((h) => h > 0));

/** A law of flight, a time constant, a lag, and the columns that they are made of, in the order of the priors. */
export interface Candidate {
  readonly law: number;
  readonly tauH: number;
  readonly lag: number;
  readonly lagMs: number;
  readonly chosen: readonly number[];
  readonly logPrior: number;
}

export interface DriftColumns {
  readonly values: readonly Float64Array[];
  readonly candidates: readonly Candidate[];
  readonly lags: number;
}

/** A figure’s spread holds nine cases in ten. */
const homingLogSd = Math.log(highEnd(homingFlightHours) / lowEnd(homingFlightHours)) / (2 * z90);

/** Laws of leaving before any reading: each law of flight, by its chance, with each time constant, and their weights. */
export function lawsOfLeaving(
  lawChances: readonly number[],
): { law: number; tauH: number; logPrior: number }[] {
  return lawChances.flatMap((chance, law) =>
    driftTausH.map((tauH) => {
      const z = Math.log(tauH / homingFlightHours.value) / homingLogSd;
      return { law, tauH, logPrior: Math.log(chance) - 0.5 * z * z };
    }),
  );
}

/** What moves the weight, a value a row: what all candidates share, then each law's curve and modes, then outside by lag. */
export function driftColumns(data: DriftData): DriftColumns {
  const { rows, outsideC, warmthKh, settledG, settledInDayG } = data;
  const column = (of: (row: DriftRow) => number): Float64Array => Float64Array.from(rows, of);
  const lags = driftLagsMs;
  const foragers = (rows.at(-1)?.flownByDay ?? []).map((_, day) => newForagers(day));
  const values = [
    column(() => 1),
    column((row) => row.hours),
    warmthKh,
    column((row) => row.flownByDay.reduce((sum, h, day) => sum + (foragers[day] as number) * h, 0)),
    column((row) => row.wet),
    column((row) => (row.quiet ? 0 : -row.activity * takenUp(row))),
    ...(settledG.length > 0 ? [settledG, settledInDayG.map((g, i) => g * takenUp(rows[i] as DriftRow))] : []),
  ];
  /** Method: places of the columns that all candidates share. */
  const [level, hours, warmth, brought, wet, out, settled, settledInDay] = [0, 1, 2, 3, 4, 5, 6, 7] as const;
  const warmer = lags.map((lagMs) => values.push(kelvin(outsideC.get(lagMs) as Float64Array)) - 1);
  const laws = lawsOfLeaving(data.lawChances);
  const candidates = laws.flatMap(({ law, tauH, logPrior }) => {
    const share = rows.map((row) => lawOfLeaving(row.flownH[law] as number, tauH));
    const gone = values.push(Float64Array.from(share, (g) => -g)) - 1;
    for (let k = 0; k < modes; k++) values.push(Float64Array.from(share, (g) => -modeAt(g, k)));
    const curve = Array.from({ length: 1 + modes }, (_, k) => gone + k);
    return lags.map((lagMs, lag) => ({
      law,
      tauH,
      lag,
      lagMs,
      logPrior,
      chosen: [
        level,
        hours,
        ...curve,
        warmer[lag] as number,
        warmth,
        brought,
        wet,
        out,
        ...(settledG.length > 0 ? [settled, settledInDay] : []),
      ],
    }));
  });
  return { values, candidates, lags: lags.length };
}

/** Outside temperature over that of the first row that knows it; 0 where it is missing. */
function kelvin(outsideC: Float64Array): Float64Array {
  const first = outsideC.find((v) => Number.isFinite(v)) ?? 0;
  return outsideC.map((v) => (Number.isNaN(v) ? 0 : v - first));
}
