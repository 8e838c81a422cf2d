/**
 * Weather of one site, a value a minute: sun, cloud, fronts, rain, wind and the air temperature that follows
 * from them. Drawn forward in time only, so that a longer run begins with the shorter one.
 */
import { getPosition } from 'suncalc';
import { air, averageSkyShare, shower, sky, sunsWind, weatherWander } from './constants.ts';
import { dayOfYear, minuteMs, type SimPlace } from './place.ts';
import { rngFor, wander, type Rng } from './random.ts';

/** A spell that the scenario imposes on the weather, with soft edges of some hours. */
export interface WeatherSpell {
  readonly fromMs: number;
  readonly toMs: number;
  /** Added to the air's temperature, °C. */
  readonly warmerC: number;
  /** Sky kept overcast. */
  readonly overcast?: boolean;
  /** It rains for this share of the time, in showers. */
  readonly rainShare?: number;
}

export interface WeatherParameters {
  /** Added to the climate's mean for latitude and date, °C. */
  readonly warmerC: number;
  /** Mean of the air instead of the climate's, °C. */
  readonly meanC?: number;
  /** Standard deviation of day-to-day change, °C. */
  readonly frontSdC: number;
  /** Air heated per W/m² of radiation above the day's mean, K: sets the day's swing. */
  readonly heatingKPerWm2: number;
  /** Long-run share of the sky under cloud, 0-1. */
  readonly cloudiness: number;
  /** Showers a day when the sky is mostly covered. */
  readonly showersPerDay: number;
  /** Mean wind, m/s. */
  readonly windMs: number;
}

export interface Weather {
  readonly startMs: number;
  readonly minutes: number;
  readonly airC: Float32Array;
  readonly radiationWm2: Float32Array;
  /** Height of the sun, degrees. */
  readonly sunDeg: Float32Array;
  /** 0 clear to 1 overcast. */
  readonly cloud: Float32Array;
  /** Rain in each minute, mm. */
  readonly rainMm: Float32Array;
  readonly windMs: Float32Array;
}

/** Mean air of the season: from memory of climate tables, 10 °C at 50° and 0.4 °C warmer a degree nearer the equator. */
export function seasonMeanC(latDeg: number, atMs: number): number {
  const warmestDay = latDeg >= 0 ? 200 : 18;
  const swing = 0.2 * Math.abs(latDeg);
  return 30 - 0.4 * Math.abs(latDeg) + swing * Math.cos((2 * Math.PI * (dayOfYear(atMs) - warmestDay)) / 365);
}

/** Clear-sky radiation on the flat for a height of the sun in degrees, W/m². */
export function clearSkyWm2(sunDeg: number): number {
  if (sunDeg <= 0) return 0;
  return Math.max(0, sky.slopeWm2 * Math.sin((sunDeg * Math.PI) / 180) - sky.offsetWm2);
}

export function simulateWeather(
  seed: number,
  place: SimPlace,
  startMs: number,
  minutes: number,
  p: WeatherParameters,
  spells: readonly WeatherSpell[] = [],
): Weather {
  const { front: fronts, cloud: clouds, airK, wind } = weatherWander;
  const front = wander(rngFor(seed, 'front'), p.frontSdC, fronts.memoryMin);
  const cover = wander(rngFor(seed, 'cloud'), clouds.sd, clouds.memoryMin);
  const flutter = wander(rngFor(seed, 'air'), airK.sd, airK.memoryMin);
  const windy = wander(rngFor(seed, 'wind'), wind.sd, wind.memoryMin);
  // A logarithm that wanders raises the mean by half its variance: so the mean wind stays as it is set.
  const windRise = (wind.scale * wind.sd) ** 2 / 2;
  const rain = rainGauge(rngFor(seed, 'rain'), p.showersPerDay);
  const w: Weather = {
    startMs,
    minutes,
    airC: new Float32Array(minutes),
    radiationWm2: new Float32Array(minutes),
    sunDeg: new Float32Array(minutes),
    cloud: new Float32Array(minutes),
    rainMm: new Float32Array(minutes),
    windMs: new Float32Array(minutes),
  };
  const sun = sunHeight(place);
  const bias = Math.log(p.cloudiness / (1 - p.cloudiness));
  let sunMeanWm2 = daysMeanWm2(place, startMs);
  let seasonC = p.meanC ?? seasonMeanC(place.latDeg, startMs) + p.warmerC;
  let heatedC = 0;
  let wetC = 0;
  for (let i = 0; i < minutes; i++) {
    const atMs = startMs + i * minuteMs;
    if (i % 1440 === 0) {
      sunMeanWm2 = daysMeanWm2(place, atMs);
      seasonC = p.meanC ?? seasonMeanC(place.latDeg, atMs) + p.warmerC;
    }
    const spell = spellAt(spells, atMs);
    const cloud = Math.max(1 / (1 + Math.exp(-(cover() * clouds.scale + bias))), spell.overcast);
    const sunDeg = sun(atMs);
    const radiation = clearSkyWm2(sunDeg) * (1 - sky.cloudLoss * cloud ** sky.cloudPower);
    const fall = rain(cloud, spell.rainShare);
    // The ground warms the air by the sun above its daily mean, cloud keeps the night's heat in.
    const driveC = p.heatingKPerWm2 * (radiation - sunMeanWm2 * (1 - air.keptByCloud * cloud));
    heatedC += (driveC - heatedC) / (air.groundMemoryH * 60);
    wetC += ((fall > 0 ? air.rainK : 0) - wetC) / air.rainMemoryMin;
    w.airC[i] = seasonC + front() + heatedC + wetC + flutter() + spell.warmerC;
    w.radiationWm2[i] = radiation;
    w.sunDeg[i] = sunDeg;
    w.cloud[i] = cloud;
    w.rainMm[i] = fall;
    const bySun = sunsWind.atNight + radiation / sunsWind.doubledByWm2;
    w.windMs[i] = p.windMs * Math.exp(wind.scale * windy() - windRise) * bySun;
  }
  return w;
}

/** The minutes of a site's weather from `fromMs` on. Throws a RangeError when it doesn't cover them. */
export function partOf(weather: Weather, fromMs: number, minutes: number): Weather {
  const from = Math.round((fromMs - weather.startMs) / minuteMs);
  if (from < 0 || from + minutes > weather.minutes) {
    throw new RangeError('the weather does not cover the run: start it earlier or make it longer');
  }
  const part = (values: Float32Array) => values.subarray(from, from + minutes);
  return {
    startMs: weather.startMs + from * minuteMs,
    minutes,
    airC: part(weather.airC),
    radiationWm2: part(weather.radiationWm2),
    sunDeg: part(weather.sunDeg),
    cloud: part(weather.cloud),
    rainMm: part(weather.rainMm),
    windMs: part(weather.windMs),
  };
}

/** Height of the sun, exact every five minutes and straight between, which errs by some thousandths of a degree. */
function sunHeight(place: SimPlace): (atMs: number) => number {
  const stepMs = 5 * minuteMs;
  const exact = (atMs: number) => getPosition(new Date(atMs), place.latDeg, place.lonDeg).altitude;
  let fromMs = NaN;
  let from = 0;
  let to = 0;
  return (atMs) => {
    const startMs = Math.floor(atMs / stepMs) * stepMs;
    if (startMs !== fromMs) {
      from = startMs === fromMs + stepMs ? to : exact(startMs);
      to = exact(startMs + stepMs);
      fromMs = startMs;
    }
    return from + ((to - from) * (atMs - startMs)) / stepMs;
  };
}

/** Mean radiation over the day of `atMs` under an average sky. */
function daysMeanWm2(place: SimPlace, atMs: number): number {
  let sum = 0;
  for (let hour = 0; hour < 24; hour++) {
    sum += clearSkyWm2(getPosition(new Date(atMs + hour * 3_600_000), place.latDeg, place.lonDeg).altitude);
  }
  return (sum / 24) * averageSkyShare;
}

const edgeMs = 5 * 3_600_000;
/** Cover of an overcast spell. */
const fullCover = 0.97;

/** What the imposed spells add at an instant; edges fade over five hours. */
function spellAt(spells: readonly WeatherSpell[], atMs: number) {
  let warmerC = 0;
  let overcast = 0;
  let rainShare = 0;
  for (const spell of spells) {
    const into = Math.min(atMs - spell.fromMs, spell.toMs - atMs) / edgeMs + 0.5;
    const weight = Math.min(1, Math.max(0, into));
    warmerC += weight * spell.warmerC;
    if (spell.overcast) overcast = Math.max(overcast, fullCover * weight);
    rainShare = Math.max(rainShare, weight * (spell.rainShare ?? 0));
  }
  return { warmerC, overcast, rainShare };
}

/** Showers of some minutes to hours that come when the sky is covered; returns mm in a minute. */
function rainGauge(rng: Rng, showersPerDay: number): (cloud: number, share: number) => number {
  let left = 0;
  let strength = 0;
  return (cloud, share) => {
    // Drawn every minute, rain or not, so that a spell changes the weather only while it lasts.
    const roll = rng.uniform();
    const length = rng.exponential(shower.meanMin);
    const heavy = rng.exponential(shower.meanMm);
    const often = cloud > shower.fromCloud ? showersPerDay / 1440 : 0;
    // So often that it rains for this share of the time; a share of 1 would need no end of showers.
    const imposed = share > 0 ? share / (shower.meanMin * Math.max(0.05, 1 - share)) : 0;
    if (left <= 0 && roll < often + imposed) {
      left = shower.leastMin + length;
      strength = shower.leastMm + heavy;
    }
    if (left <= 0) return 0;
    left--;
    return strength;
  };
}
