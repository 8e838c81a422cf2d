/** When bees fly: warm enough, light enough, dry, and not too windy. */
import type { Weather } from './weather.ts';

/** The law of one colony's flight. */
export interface FlightLaw {
  /** Flight begins, °C (about 12), and rises evenly to full (20: Burrill & Dietz 1981 in the COLOSS BEEBOOK). */
  readonly flightThresholdC: number;
  readonly flightFullC: number;
  /** What the sun adds to the air, K per W/m². */
  readonly flightSunKPerWm2: number;
}

/** Share of full flight, 0 to 1, in each minute. */
export function flightActivity(weather: Weather, law: FlightLaw): Float32Array {
  const activity = new Float32Array(weather.minutes);
  let sinceRainMin = 999;
  for (let i = 0; i < weather.minutes; i++) {
    sinceRainMin = (weather.rainMm[i] ?? 0) > 0 ? 0 : sinceRainMin + 1;
    const radiation = weather.radiationWm2[i] ?? 0;
    const feltC = (weather.airC[i] ?? 0) + law.flightSunKPerWm2 * radiation;
    const warm = ramp(feltC, law.flightThresholdC, law.flightFullC);
    const light = ramp(radiation, 15, 120);
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
