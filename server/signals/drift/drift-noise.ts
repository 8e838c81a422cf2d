/** How the rows of the drift's fit vary together, apart from what its columns explain. */
import { roofOffHours } from '../../biology/weather-figures.ts';
import { firstBlurG, firstBlurHours, sunBlurHours } from '../../biology/scale-figures.ts';
import type { Restless } from '../../biology/drift-figures.ts';
import type { DriftBeliefs } from './drift-beliefs.ts';
import { newForagers } from './drift-columns.ts';
import type { DriftData, DriftRow } from './drift-rows.ts';
import { dotOf } from '../statistics/linear.ts';

/** Method: the sun’s blur under a low or clouded sun, as a share of a high one’s. */
const cloudBlur = 0.3;

/** Covariance of the rows under a scale that is so restless: row-major, its lower half. */
export type NoiseOf = (restless: Restless) => Float64Array;

/** What the rows have in common whatever the scale is, worked out once; every row tells the hours of the same days. */
export function noiseOf({ rows, jumps }: DriftData, { income, roofG }: DriftBeliefs): NoiseOf {
  const n = rows.length;
  const days = rows.at(-1)?.flownByDay.length ?? 0;
  const broughtG = Array.from({ length: days }, (_, d) => income.daySd * newForagers(d));
  const hours = Float64Array.from(rows, (row) => row.hours);
  /** What each day does beside the usual up to a row: by the flight of new foragers, g, and by the share of it that is over. */
  const brought = new Float64Array(n * days);
  const ofDay = new Float64Array(n * days);
  rows.forEach((row, i) => {
    brought.set(
      row.flownByDay.map((flown, d) => (broughtG[d] as number) * flown),
      i * days,
    );
    ofDay.set(row.ofDay, i * days);
  });
  const roof = fading(
    hours,
    Float64Array.from(
      rows,
      (row) => roofG.mean * Math.max(roofG.dryingShare * row.wet, row.raining ? roofG.rainShare : 0),
    ),
    roofOffHours.value,
  );
  const jumped = Float64Array.from(rows, (row) =>
    jumps.reduce((sum, jump) => sum + (jump.hours < row.hours ? jump.sdG ** 2 : 0), 0),
  );
  const shared = new Float64Array(n * n);
  const byDay = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      shared[i * n + j] =
        (jumped[j] as number) +
        dotOf(brought, i * days, brought, j * days, days) +
        (roof.later[i] as number) * (roof.earlier[j] as number);
      byDay[i * n + j] = dotOf(ofDay, i * days, ofDay, j * days, days);
    }
    shared[i * n + i] = (shared[i * n + i] as number) + (rows[i] as DriftRow).noiseVar;
  }
  return ({ wanderG, dayG, blurG }) => {
    const c = shared.slice();
    const [wanderPerH, dayVar] = [wanderG ** 2 / 24, dayG ** 2];
    const blur = Float64Array.from(rows, (row) => blurOf(row, blurG));
    const sun = fading(hours, blur, sunBlurHours.value);
    for (let i = 0; i < n; i++)
      for (let j = 0; j <= i; j++)
        c[i * n + j] =
          (c[i * n + j] as number) +
          wanderPerH * (hours[j] as number) +
          dayVar * (byDay[i * n + j] as number) +
          (sun.later[i] as number) * (sun.earlier[j] as number);
    return c;
  };
}

/**
 * Factors of a covariance a(i) a(j) exp(−(t(i) − t(j)) / τ) of rows i after j: one exponential a row instead of one a pair.
 * A window of ten days and a τ of hours stay within what a double holds.
 */
function fading(hours: Float64Array, amplitude: Float64Array, tauH: number) {
  const later = amplitude.map((a, i) => a * Math.exp(-(hours[i] as number) / tauH));
  const earlier = amplitude.map((a, i) => a * Math.exp((hours[i] as number) / tauH));
  return { later, earlier };
}

/** Blur of a row, g: none at night, that of the sun's height by day. */
function blurOf(row: DriftRow, blurG: number): number {
  if (row.quiet) return 0;
  const sun = Math.max(cloudBlur, Math.sin((Math.max(0, row.sunDeg) * Math.PI) / 180));
  const eased =
    Math.min(firstBlurG.value, blurG) +
    Math.max(0, blurG - firstBlurG.value) * Math.min(1, row.hours / firstBlurHours.value);
  return sun * eased;
}
