/** Temperature probes in the nest, beside the cage and outside; humidity and rain of the site; battery. */
import type { Overlay } from '../overlay.ts';
import type { NucParameters } from '../parameters.ts';
import { rngFor } from '../random.ts';
import type { Truth } from '../colony/truth.ts';
import type { Weather } from '../weather.ts';

/** Steps of a common 12-bit digital probe. */
const stepC = 0.0625;
const noiseC = 0.04;
const quantise = (tempC: number): number => Math.round(tempC / stepC) * stepC;

/** A probe that sees `share` of the way from box to nest, lags some minutes, and is pulled out at visits. */
export function hiveProbeC(
  seed: number,
  name: 'brood' | 'cage',
  p: NucParameters,
  truth: Truth,
  weather: Weather,
  overlay: Overlay,
): Float64Array {
  const rng = rngFor(seed, `probe ${name}`);
  const share = name === 'brood' ? p.broodProbeInNest : p.cageInNest;
  const offset = name === 'brood' ? p.probeOffsetC : -0.7 * p.probeOffsetC;
  const readings = new Float64Array(truth.minutes);
  let seen = truth.broodC[0] ?? 30;
  for (let i = 0; i < truth.minutes; i++) {
    const box = truth.boxC[i] ?? 0;
    const inside = box + share * ((truth.broodC[i] ?? 0) - box);
    const outside = weather.airC[i] ?? 0;
    const here = inside + (overlay.probesOut[i] ?? 0) * (outside - inside);
    seen += (here - seen) / 4;
    readings[i] = quantise(seen + offset + noiseC * rng.normal());
  }
  return readings;
}

/** The outside probe: air, warmed by the sun on its shield, less so in wind. */
export function outsideProbeC(seed: number, p: NucParameters, weather: Weather): Float64Array {
  const rng = rngFor(seed, 'probe outside');
  const readings = new Float64Array(weather.minutes);
  let seen = weather.airC[0] ?? 15;
  for (let i = 0; i < weather.minutes; i++) {
    const sun = ((weather.radiationWm2[i] ?? 0) / 900) * p.outsideSunC;
    const here = (weather.airC[i] ?? 0) + sun / (1 + 0.3 * (weather.windMs[i] ?? 0));
    seen += (here - seen) / 8;
    readings[i] = quantise(seen + 0.5 * p.probeOffsetC + noiseC * rng.normal());
  }
  return readings;
}

/** Rain since local midnight would need a calendar; this gauge tells the rain of each minute, tips of 0.2 mm. */
export function rainGaugeMm(weather: Weather): Float64Array {
  const tip = 0.2;
  const readings = new Float64Array(weather.minutes);
  let held = 0;
  for (let i = 0; i < weather.minutes; i++) {
    held += weather.rainMm[i] ?? 0;
    const tips = Math.floor(held / tip);
    held -= tips * tip;
    readings[i] = tips * tip;
  }
  return readings;
}

/** Relative humidity outside: moister as the air cools below the day's warmth, under cloud and in rain. A rough rhythm only. */
export function humidityPct(seed: number, weather: Weather): Float64Array {
  const rng = rngFor(seed, 'humidity');
  const readings = new Float64Array(weather.minutes);
  let meanC = weather.airC[0] ?? 15;
  for (let i = 0; i < weather.minutes; i++) {
    const air = weather.airC[i] ?? 15;
    meanC += (air - meanC) / 1440;
    const raw =
      68 - 3.2 * (air - meanC) + 14 * (weather.cloud[i] ?? 0) + ((weather.rainMm[i] ?? 0) > 0 ? 15 : 0);
    readings[i] = Math.round(Math.min(100, Math.max(18, raw + 0.8 * rng.normal())) * 10) / 10;
  }
  return readings;
}

/** Days from the first weakness of a dying battery to silence. */
export const batteryDiesInDays = 4;

/** Battery of the sensor, %: a slow even fall, or down to nothing in some days once `dyingFromMin` has come. */
export function batteryPct(seed: number, minutes: number, dyingFromMin: number): Float64Array {
  const rng = rngFor(seed, 'battery');
  const full = rng.between(72, 100);
  const readings = new Float64Array(minutes);
  for (let i = 0; i < minutes; i++) {
    const dying = Math.max(0, (i - dyingFromMin) / (batteryDiesInDays * 1440));
    readings[i] = Math.max(0, Math.round((full - (0.12 * i) / 1440) * (1 - dying)));
  }
  return readings;
}
