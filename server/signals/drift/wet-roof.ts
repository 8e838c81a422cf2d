/** How much water the roof holds while the scale weighs it. */
import { roofDriesInSunPerH, roofDriesPerH, roofSoakMm } from '../../biology/weather-figures.ts';
import { binMs } from '../bins.ts';
import { hourMs, indexAt } from '../series.ts';
import type { Series } from '../types.ts';
import type { Flight } from './flight.ts';

const soakMm = roofSoakMm.value;
const dryNight = roofDriesPerH.value;
const drySun = roofDriesInSunPerH.value;

/** Wetness of the roof in each bin of `flight`: filled by rain, dried by air and sun. */
export function wetRoof(flight: Flight, rain: Series | undefined): Float64Array {
  const wet = new Float64Array(flight.activity.length);
  if (!rain) return wet;
  let state = 0;
  let next = indexAt(rain, flight.fromMs);
  for (let i = 0; i < wet.length; i++) {
    const endMs = flight.fromMs + (i + 1) * binMs;
    for (; next < rain.atMs.length && (rain.atMs[next] as number) < endMs; next++) {
      state = Math.min(1, state + Math.max(0, rain.value[next] as number) / soakMm);
    }
    const sun = Math.max(0, Math.sin(((flight.sunDeg[i] as number) * Math.PI) / 180));
    state *= 1 - (dryNight + drySun * sun) * (binMs / hourMs);
    wet[i] = state;
  }
  return wet;
}
