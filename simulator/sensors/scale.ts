/** A load cell under the box: noise, drift with temperature, creep, water on the roof, wind, spikes. */
import type { Overlay } from '../overlay.ts';
import type { NucParameters } from '../parameters.ts';
import { rngFor } from '../random.ts';
import type { Truth } from '../colony/truth.ts';
import type { Weather } from '../weather.ts';

/** What the scale would read each minute, kg; also fills the truth's `roofWaterG`. */
export function scaleReadingsKg(
  seed: number,
  p: NucParameters,
  truth: Truth,
  weather: Weather,
  overlay: Overlay,
): Float64Array {
  const rng = rngFor(seed, 'scale');
  const driftGPerK = p.scaleDriftGPerK * (rng.chance(0.5) ? -1 : 1);
  const readings = new Float64Array(truth.minutes);
  const startC = weather.airC[0] ?? 15;
  let cellC = startC;
  let crept = truth.boxMassG[0] ?? 0;
  let water = 0;
  let zero = 0;
  for (let i = 0; i < truth.minutes; i++) {
    const radiation = weather.radiationWm2[i] ?? 0;
    // The cell sits in the shade of the box: it follows the air, with a little of the sun.
    cellC += ((weather.airC[i] ?? startC) + 0.003 * radiation - cellC) / p.scaleLagMin;
    water = roofWater(water, weather.rainMm[i] ?? 0, radiation, weather.windMs[i] ?? 0, p);
    truth.roofWaterG[i] = water;
    const load = ((truth.boxMassG[i] ?? 0) + water) * (overlay.carried[i] ?? 1) + (overlay.handlingG[i] ?? 0);
    crept += (load - crept) / p.creepMin;
    zero += (p.zeroWanderG / Math.sqrt(1440)) * rng.normal();
    const wind = weather.windMs[i] ?? 0;
    const noise = p.scaleNoiseG * rng.normal() + p.windNoiseG * wind * wind * rng.normal();
    const spike = rng.uniform() < p.spikeChance ? spikeG(rng.uniform()) : 0;
    const gram =
      load +
      p.creepShare * crept +
      driftGPerK * (cellC - startC) +
      zero +
      (overlay.zeroG[i] ?? 0) +
      noise +
      spike;
    readings[i] = Math.round(gram) / 1000;
  }
  return readings;
}

/** Single faults of 66-212 g, nearly all downward, as real minute series show them. */
const spikeG = (roll: number): number => (roll < 0.9 ? -1 : 1) * (66 + 146 * ((roll * 7919) % 1));

/**
 * Rain wets the roof up to what it holds; sun, wind and time dry it. Rates from memory: an hour or two in the sun, a
 * night in the shade.
 */
function roofWater(
  water: number,
  rainMm: number,
  radiation: number,
  windMs: number,
  p: NucParameters,
): number {
  // A millimetre on a square metre is a kilogram.
  const wet = Math.min(p.roofHoldsG, water + rainMm * p.roofM2 * 1000);
  if (rainMm > 0) return wet;
  return wet * (1 - (0.0008 + 0.000012 * radiation + 0.0004 * windMs));
}
