/** What a scale's reading may be off: its noise, and the steps that it can tell. */
import { binMs } from '../bins.ts';
import { usualIntervalMs } from '../series.ts';
import { robustSd } from '../statistics/robust.ts';
import type { Series } from '../types.ts';

/** Method: second differences have so many times the variance of a reading. */
const secondDifferenceVar = 6;
/** Method: bins this near are neighbours. */
const neighbours = 2.5;
/** Method: noise where it can’t be told. */
const unknownNoiseG = 15;
/** Method: differences without which nothing is said of noise. */
const leastDifferences = 6;

/** Noise of a ten-minute median from the second differences of its neighbours, which no slow change touches. */
export function binNoise(weight: Series): number {
  const seconds: number[] = [];
  const reachMs = neighbours * Math.max(binMs, usualIntervalMs(weight) ?? 0);
  for (let i = 2; i < weight.atMs.length; i++) {
    if ((weight.atMs[i] as number) - (weight.atMs[i - 2] as number) > reachMs) continue;
    seconds.push(
      (weight.value[i] as number) - 2 * (weight.value[i - 1] as number) + (weight.value[i - 2] as number),
    );
  }
  return seconds.length < leastDifferences
    ? unknownNoiseG
    : Math.max(1, robustSd(seconds) / Math.sqrt(secondDifferenceVar));
}

/** Method: smaller is rounding of the number itself. */
const noStepG = 1e-6;
/** Method: a uniform’s variance is its width squared by this. */
const uniformVariance = 12;

/** What a scale that tells steps of so many grams may be off, g². */
export function roundingVar({ value }: Series): number {
  let stepG = Infinity;
  for (let i = 1; i < value.length; i++) {
    const by = Math.abs((value[i] as number) - (value[i - 1] as number));
    if (by > noStepG && by < stepG) stepG = by;
  }
  return Number.isFinite(stepG) ? stepG ** 2 / uniformVariance : 0;
}
