/** When bees fly: warm enough, light enough, dry, and not too windy. */
import { flightFreeC } from './constants.ts';
import type { Weather } from './weather.ts';

/**
 * Share of full flight, 0 to 1, in each minute. `thresholdC` is where this colony's flight begins (about 12 °C);
 * it rises evenly to full at 20 °C (Burrill & Dietz 1981 in the COLOSS BEEBOOK).
 */
export function flightActivity(weather: Weather, thresholdC: number): Float32Array {
  const activity = new Float32Array(weather.minutes);
  let sinceRainMin = 999;
  for (let i = 0; i < weather.minutes; i++) {
    sinceRainMin = (weather.rainMm[i] ?? 0) > 0 ? 0 : sinceRainMin + 1;
    const warm = ramp(weather.airC[i] ?? 0, thresholdC, flightFreeC);
    const light = ramp(weather.radiationWm2[i] ?? 0, 15, 120);
    const calm = 1 - ramp(weather.windMs[i] ?? 0, 6, 11);
    // Flight resumes promptly after a shower (Lundie 1925, USDA Bulletin 1328).
    const dry = sinceRainMin < 2 ? 0 : ramp(sinceRainMin, 1, 12);
    activity[i] = warm * light * calm * dry;
  }
  return activity;
}

/** 0 at or under `from`, 1 at or over `to`, straight between. */
function ramp(value: number, from: number, to: number): number {
  return Math.min(1, Math.max(0, (value - from) / (to - from)));
}
