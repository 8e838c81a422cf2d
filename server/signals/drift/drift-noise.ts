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

/** Covariance of the rows, row-major, its lower half; every row tells the hours of the same days. */
export function restlessNoise(
  { rows, jumps }: DriftData,
  { income, roofG }: DriftBeliefs,
  { wanderG, dayG, blurG }: Restless,
): Float64Array {
  const n = rows.length;
  const c = new Float64Array(n * n);
  const days = rows.at(-1)?.flownByDay.length ?? 0;
  const broughtG = Array.from({ length: days }, (_, d) => income.daySd * newForagers(d));
  const hours = Float64Array.from(rows, (row) => row.hours);
  /** What each day does beside the usual up to a row, g: by the flight of new foragers, and by the hours of the day. */
  const width = 2 * days;
  const ofDay = new Float64Array(n * width);
  rows.forEach((row, i) =>
    row.flownByDay.forEach((flown, d) => {
      ofDay[i * width + 2 * d] = (broughtG[d] as number) * flown;
      ofDay[i * width + 2 * d + 1] = dayG * (row.ofDay[d] as number);
    }),
  );
  const wanderPerH = wanderG ** 2 / 24;
  const sun = fading(
    hours,
    Float64Array.from(rows, (row) => blurOf(row, blurG)),
    sunBlurHours.value,
  );
  const roof = fading(
    hours,
    Float64Array.from(rows, (row) => roofG.dryingShare * roofG.mean * row.wet),
    roofOffHours.value,
  );
  const jumped = Float64Array.from(rows, (row) =>
    jumps.reduce((sum, jump) => sum + (jump.hours < row.hours ? jump.sdG ** 2 : 0), 0),
  );
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      c[i * n + j] =
        wanderPerH * (hours[j] as number) +
        (jumped[j] as number) +
        dotOf(ofDay, i * width, ofDay, j * width, width) +
        (sun.later[i] as number) * (sun.earlier[j] as number) +
        (roof.later[i] as number) * (roof.earlier[j] as number);
    }
    c[i * n + i] = (c[i * n + i] as number) + (rows[i] as DriftRow).noiseVar;
  }
  return c;
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
