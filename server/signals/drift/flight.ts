/** Flying weather, as far as thermometer, sun and rain gauge can tell it. */
import {
  flightAfterRainMinutes,
  fullLightSunDeg,
  unknownWarmthShare,
} from '../../biology/weather-figures.ts';
import {
  flownFromDays,
  flownFromTheMove,
  otherWarmthLaws,
  usualWarmthLaw,
  type WarmthLaw,
} from '../../biology/drift-figures.ts';
import { flightBeginsC, flightFreeC } from '../../biology/weight-figures.ts';
import { binMs, valueAt } from '../bins.ts';
import { hourMs, indexAt, minuteMs } from '../series.ts';
import { sunHeightDeg } from '../sun.ts';
import type { Series, SitePlace } from '../types.ts';

/** Flight in ten-minute bins. */
export interface Flight {
  /** Start of the first bin; bins follow without gap. */
  readonly fromMs: number;
  /** Share of full flight, 0..1, in each bin, by the usual law of warmth. */
  readonly activity: Float64Array;
  /** The same if it were warm enough: daylight, and dry. */
  readonly light: Float64Array;
  /** Height of the sun in the middle of each bin, degrees. */
  readonly sunDeg: Float64Array;
  /** 1 where the outside temperature was not known, so that warmth was taken from a mild day. */
  readonly guessed: Uint8Array;
}

/** Laws that are all possible, the usual one first (Burrill and Dietz 1981). */
const warmthLaws: readonly WarmthLaw[] = [[flightBeginsC.value, flightFreeC.value], ...otherWarmthLaws];

const ramp = (v: number, from: number, to: number): number =>
  Math.min(1, Math.max(0, (v - from) / (to - from)));

const afterRainMs = flightAfterRainMinutes.value * minuteMs;
const unknownWarmth = unknownWarmthShare.value;

/** By place and day: all nucs of a site ask for the same. */
const known = new Map<string, Float64Array>();
/** Setting: days kept. */
const mostKnown = 250;

/** Height of the sun in the middle of each bin over [fromMs, toMs), degrees; shared, not to be written to. */
export function sunHeights(place: SitePlace, fromMs: number, toMs: number): Float64Array {
  const key = `${String(place.latDeg)} ${String(place.lonDeg)} ${String(fromMs)} ${String(toMs)}`;
  let heights = known.get(key);
  if (!heights) {
    if (known.size >= mostKnown) known.clear();
    known.set(key, (heights = heightsOf(place, fromMs, toMs)));
  }
  return heights;
}

function heightsOf(place: SitePlace, fromMs: number, toMs: number): Float64Array {
  const first = Math.floor(fromMs / binMs);
  const n = Math.max(0, Math.ceil(toMs / binMs) - first);
  return Float64Array.from({ length: n }, (_, i) => sunHeightDeg(place, (first + i + 0.5) * binMs));
}

/** Flight over [fromMs, toMs), from an outside temperature (perhaps empty) and rain (perhaps absent). */
export function flightBetween(
  place: SitePlace,
  fromMs: number,
  toMs: number,
  outside: Series,
  rain?: Series,
): Flight {
  const first = Math.floor(fromMs / binMs);
  const n = Math.max(0, Math.ceil(toMs / binMs) - first);
  const flight = {
    fromMs: first * binMs,
    activity: new Float64Array(n),
    light: new Float64Array(n),
    sunDeg: sunHeights(place, fromMs, toMs),
    guessed: new Uint8Array(n),
  };
  for (let i = 0; i < n; i++) {
    const at = (first + i + 0.5) * binMs;
    const light = ramp(flight.sunDeg[i] as number, 0, fullLightSunDeg.value);
    if (light === 0) continue;
    const outsideC = valueAt(outside, at, 2 * hourMs);
    if (Number.isNaN(outsideC)) flight.guessed[i] = 1;
    const warm = Number.isNaN(outsideC)
      ? unknownWarmth
      : ramp(outsideC, flightBeginsC.value, flightFreeC.value);
    flight.light[i] = rainIn(rain, at - afterRainMs, at + binMs / 2) ? 0 : light;
    flight.activity[i] = warm * (flight.light[i] as number);
  }
  return flight;
}

/** Flight under each law that is possible, and how likely each is before any weight. */
export interface FlightLaws {
  readonly activity: readonly Float64Array[];
  readonly chances: readonly number[];
}

const withChances = (activity: readonly Float64Array[], usual: number): FlightLaws => ({
  activity,
  chances: activity.map((_, law) => (law === 0 ? usual : (1 - usual) / (activity.length - 1))),
});

/** Where warmth is guessed, the first days may have been too cold to fly. `dayStartsMs`: of the days since the move. */
export function lawsOfGuessedWarmth(flight: Flight, dayStartsMs: readonly number[]): FlightLaws {
  const later = flownFromDays.map((day) => {
    const from = dayStartsMs[day] ?? Infinity;
    return flight.activity.map((share, i) => (flight.fromMs + i * binMs < from ? 0 : share));
  });
  return withChances([flight.activity, ...later], flownFromTheMove.value);
}

/** By law of warmth; where the temperature is not known all are alike. */
export function lawsOfWarmth(flight: Flight, outside: Series): FlightLaws {
  const byLaw = warmthLaws.map(() => flight.activity.slice());
  for (let i = 0; i < flight.activity.length; i++) {
    const light = flight.light[i] as number;
    if (light === 0 || flight.guessed[i]) continue;
    const outsideC = valueAt(outside, flight.fromMs + (i + 0.5) * binMs, 2 * hourMs);
    if (Number.isNaN(outsideC)) continue;
    warmthLaws.forEach(([fromC, toC], k) => {
      (byLaw[k] as Float64Array)[i] = light * ramp(outsideC, fromC, toC);
    });
  }
  return withChances(byLaw, usualWarmthLaw.value);
}

export function rainIn(rain: Series | undefined, fromMs: number, toMs: number): boolean {
  if (!rain) return false;
  for (let i = indexAt(rain, fromMs); i < rain.atMs.length && (rain.atMs[i] as number) <= toMs; i++) {
    if ((rain.value[i] as number) > 0) return true;
  }
  return false;
}

/** Flights of neighbouring days, one after the other; bins between them that nobody holds have no flight. */
export function joinFlights(parts: readonly Flight[]): Flight {
  const first = parts[0];
  const last = parts.at(-1);
  if (!first || !last) {
    return {
      fromMs: 0,
      activity: new Float64Array(0),
      light: new Float64Array(0),
      sunDeg: new Float64Array(0),
      guessed: new Uint8Array(0),
    };
  }
  const n = Math.round((last.fromMs - first.fromMs) / binMs) + last.activity.length;
  const joined = {
    fromMs: first.fromMs,
    activity: new Float64Array(n),
    light: new Float64Array(n),
    sunDeg: new Float64Array(n),
    guessed: new Uint8Array(n),
  };
  for (const part of parts) {
    const at = Math.round((part.fromMs - first.fromMs) / binMs);
    joined.activity.set(part.activity, at);
    joined.light.set(part.light, at);
    joined.sunDeg.set(part.sunDeg, at);
    joined.guessed.set(part.guessed, at);
  }
  return joined;
}

/** Hours of full flight flown from `fromMs` to the end of each bin. */
export function flightHoursSince(
  flight: Flight,
  fromMs: number,
  activity: Float64Array = flight.activity,
): Float64Array {
  const hours = new Float64Array(activity.length);
  let sum = 0;
  for (let i = 0; i < hours.length; i++) {
    const endMs = flight.fromMs + (i + 1) * binMs;
    const share = Math.min(1, Math.max(0, (endMs - fromMs) / binMs));
    sum += (share * (activity[i] as number) * binMs) / hourMs;
    hours[i] = sum;
  }
  return hours;
}

/** Cumulated hours at an instant, straight between the bins' ends. */
export function hoursAt(flight: Flight, hours: Float64Array, atMs: number): number {
  const place = (atMs - flight.fromMs) / binMs;
  const index = Math.floor(place);
  if (index < 0) return 0;
  if (index >= hours.length) return hours.at(-1) ?? 0;
  const before = index > 0 ? (hours[index - 1] as number) : 0;
  return before + ((hours[index] as number) - before) * (place - index);
}
