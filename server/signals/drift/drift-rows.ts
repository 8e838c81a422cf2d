/** Rows for the forager drift's fit: quiet weights since the move, with what may have moved them. */
import { handledMinutes } from '../../biology/scale-figures.ts';
import { roofWetMinutes, usualDaySwingK } from '../../biology/weather-figures.ts';
import { binMs, lagged, valueAt } from '../bins.ts';
import { hoursAt, rainIn, type Flight } from './flight.ts';
import { between, hourMs, indexAt, minuteMs } from '../series.ts';
import { median } from '../statistics/robust.ts';
import type { Series, WeightStep } from '../types.ts';
import { binNoise, roundingVar } from './scale-noise.ts';
import { wetRoof } from './wet-roof.ts';

export interface DriftRow {
  readonly atMs: number;
  readonly hours: number;
  readonly weightG: number;
  /** Variance of the median itself, g². */
  readonly noiseVar: number;
  /** Flight hours since the move by each law of flight. */
  readonly flownH: readonly number[];
  /** By the usual law, on each local day since the move, up to this row. */
  readonly flownByDay: readonly number[];
  /** Share of each of these days that is over by this row, 0..1. */
  readonly ofDay: readonly number[];
  /** How wet the roof is, 0 dry to 1 running off. */
  readonly wet: number;
  /** It rains, or has until just now: what the roof holds is hardly known. */
  readonly raining: boolean;
  /** Quiet: nobody flies. Otherwise those out and the sun blur the weight. */
  readonly quiet: boolean;
  readonly sunDeg: number;
  readonly activity: number;
}

export interface DriftData {
  readonly rows: readonly DriftRow[];
  /** Outside temperature of each row, by lag in ms; without a thermometer the rhythm of a usual day by the sun. */
  readonly outsideC: ReadonlyMap<number, Float64Array>;
  readonly thermometer: boolean;
  /** Median change of the settled hives beside it, straight from midnight to midnight, g; empty where it is not known for most rows. */
  readonly settledG: Float64Array;
  /** And what they lose and gain within a day beside that, g. */
  readonly settledInDayG: Float64Array;
  /** What was taken out as steps, or may have come and gone with a visit: hours after the move, and how far it may be off. */
  readonly jumps: readonly Jump[];
  /** Kelvin-hours of the outside temperature above its mean up to each row. */
  readonly warmthKh: Float64Array;
  readonly nights: number;
  /** Chance of each law of flight before any weight. */
  readonly lawChances: readonly number[];
}

export interface Jump {
  readonly hours: number;
  readonly sdG: number;
}

/** While it rains and shortly after the water on the roof is hardly known. */
const wetMs = roofWetMinutes.value * minuteMs;
/** Method: readings without which nothing is said of the outside. */
const leastOutside = 6;
/** Method: an outside reading this old is old. */
const oldHours = 3;
/** How much a row holds of the night, of which nobody flies, and of the day. */
interface Grain {
  readonly night: number;
  readonly day: number;
}

/** Method: from the move on, until rows grow longer. */
export const leavingMs = 48 * hourMs;
/** Method: length of rows so long after the move. The most ready leave within hours, the last tell what the nuc gathers and eats. */
const grains: readonly { readonly untilMs: number; readonly grain: Grain }[] = [
  { untilMs: 6 * hourMs, grain: { night: 20 * minuteMs, day: 20 * minuteMs } },
  { untilMs: leavingMs, grain: { night: hourMs, day: hourMs } },
  { untilMs: 120 * hourMs, grain: { night: hourMs, day: 2 * hourMs } },
  { untilMs: Infinity, grain: { night: 2 * hourMs, day: 4 * hourMs } },
];

const grainAt = (sinceMovedMs: number): Grain =>
  (grains.find(({ untilMs }) => sinceMovedMs < untilMs) as { grain: Grain }).grain;
const settleMs = handledMinutes.value * minuteMs;

/** Readings since the move, in ten-minute medians with the steps taken out, and what is known beside them. */
export interface DriftReadings {
  readonly movedAtMs: number;
  readonly untilMs: number;
  /** Starts of the local days since the move, the first at or before it. */
  readonly dayStartsMs: readonly number[];
  readonly weight: Series;
  readonly outside: Series;
  readonly rain?: Series;
  readonly flight: Flight;
  /** Hours of full flight since the move by each law of flight, to the end of each bin of `flight`, and the chance of each law. */
  readonly flownHours: readonly Float64Array[];
  readonly lawChances: readonly number[];
  readonly settled?: Series;
  readonly disturbedAtMs: readonly number[];
  readonly jumps: readonly Jump[];
  readonly lagsMs: readonly number[];
}

/** Weight bins with the steps since the move taken out again. */
export function withoutSteps<T extends Series>(weight: T, steps: readonly WeightStep[], fromMs: number): T {
  const taken = steps.filter((step) => step.atMs > fromMs);
  if (taken.length === 0) return weight;
  const value = weight.value.map((v, i) => {
    let shift = 0;
    for (const step of taken) if (step.atMs < (weight.atMs[i] as number)) shift += step.sizeG;
    return v - shift;
  });
  return { ...weight, value };
}

export function driftRows(readings: DriftReadings): DriftData {
  const { movedAtMs, untilMs, weight, outside, rain, flight } = readings;
  const groups = new Map<string, number[]>();
  for (let i = 0; i < weight.atMs.length; i++) {
    const at = weight.atMs[i] as number;
    if (at - binMs / 2 < movedAtMs || at > untilMs) continue;
    const quiet = isQuiet(flight, at);
    if (readings.disturbedAtMs.some((d) => at > d - binMs && at < d + settleMs + binMs)) continue;
    const grain = grainAt(at - movedAtMs)[quiet ? 'night' : 'day'];
    // Only when it is over.
    const endMs = (Math.floor(at / grain) + 1) * grain;
    if (endMs > untilMs) continue;
    const key = [endMs, grain, quiet, rainIn(rain, at - wetMs, at)].join(' ');
    const group = groups.get(key);
    if (group) group.push(i);
    else groups.set(key, [i]);
  }
  const roof = wetRoof(flight, rain);
  // Up to the newest row only, so that hours without a new row leave all rows as they were.
  const newest = Math.max(-1, ...[...groups.values()].map((group) => group.at(-1) as number));
  const told = between(weight, -Infinity, (weight.atMs[newest] ?? -Infinity) + 1);
  const [noise, coarseVar] = [binNoise(told), roundingVar(told)];
  const rows = [...groups.values()].map((group) => rowOf(readings, noise, coarseVar, roof, group));
  rows.sort((a, b) => a.atMs - b.atMs);
  const outsideC = new Map<number, Float64Array>();
  const thermometer = outside.atMs.length > leastOutside;
  for (const lagMs of readings.lagsMs) {
    const series = lagged(thermometer ? outside : usualDay(flight), lagMs);
    outsideC.set(
      lagMs,
      Float64Array.from(rows, (row) => valueAt(series, row.atMs, oldHours * hourMs)),
    );
  }
  return {
    rows,
    outsideC,
    thermometer,
    ...settledAt(readings, rows),
    jumps: readings.jumps,
    warmthKh: warmthUpTo(outside, movedAtMs, rows),
    nights: countNights(rows, movedAtMs),
    lawChances: readings.lawChances,
  };
}

/** Method: the sun of a night, as a sine: it cools for some hours, then no more. */
const nightSun = -0.2;

/** Warmth of a usual day by the height of the sun, K: it is highest in the afternoon. */
function usualDay({ fromMs, sunDeg }: Flight): Series {
  const atMs = Float64Array.from(sunDeg, (_, i) => fromMs + (i + 0.5) * binMs);
  const value = sunDeg.map(
    (deg) => usualDaySwingK.value * Math.max(nightSun, Math.sin((deg * Math.PI) / 180)),
  );
  return lagged({ atMs, value }, 2 * hourMs);
}

/** Method: share of the rows that must have a settled reading. */
const mostRows = 0.8;

const noneSettled = { settledG: new Float64Array(0), settledInDayG: new Float64Array(0) };

/** None where more than a fifth of the rows has no such reading within two hours. A small nuc has not the traffic of a full hive. */
function settledAt(
  { settled, dayStartsMs }: DriftReadings,
  rows: readonly DriftRow[],
): Pick<DriftData, 'settledG' | 'settledInDayG'> {
  if (!settled) return noneSettled;
  const at = (atMs: number): number => valueAt(settled, atMs, 2 * hourMs);
  const value = Float64Array.from(rows, (row) => at(row.atMs));
  if (value.filter((v) => Number.isFinite(v)).length < mostRows * rows.length) return noneSettled;
  const midnights = dayStartsMs.map((atMs) => ({ atMs, g: at(atMs) })).filter(({ g }) => Number.isFinite(g));
  const first = midnights[0]?.g ?? (value.find((v) => Number.isFinite(v)) as number);
  const settledG = Float64Array.from(rows, ({ atMs }) => betweenMidnights(midnights, atMs, first) - first);
  let last = 0;
  const settledInDayG = value.map((v, i) =>
    Number.isNaN(v) ? last : (last = v - first - (settledG[i] as number)),
  );
  return { settledG, settledInDayG };
}

/** Straight from one midnight to the next, and level after the last: what the day brings is known when it is over. */
function betweenMidnights(
  midnights: readonly { readonly atMs: number; readonly g: number }[],
  atMs: number,
  first: number,
): number {
  const next = midnights.findIndex((one) => one.atMs > atMs);
  const before = midnights[next < 0 ? midnights.length - 1 : next - 1];
  const after = next < 0 ? undefined : midnights[next];
  if (!before) return first;
  if (!after) return before.g;
  return before.g + ((after.g - before.g) * (atMs - before.atMs)) / (after.atMs - before.atMs);
}

/** Method: a median costs up to π/2 of the mean’s variance. */
const medianVar = 1.4;

function rowOf(
  readings: DriftReadings,
  noise: number,
  coarseVar: number,
  roof: Float64Array,
  group: readonly number[],
): DriftRow {
  const { weight, flight, flownHours, dayStartsMs: starts } = readings;
  const atMs = group.reduce((sum, i) => sum + (weight.atMs[i] as number), 0) / group.length;
  const bin = Math.min(flight.activity.length - 1, Math.max(0, Math.floor((atMs - flight.fromMs) / binMs)));
  const firstMs = weight.atMs[group[0] as number] as number;
  const flown = (at: number): number => hoursAt(flight, flownHours[0] as Float64Array, at);
  return {
    atMs,
    hours: (atMs - readings.movedAtMs) / hourMs,
    weightG: median(group.map((i) => weight.value[i] as number)),
    noiseVar: (noise * noise * (group.length > 2 ? medianVar : 1)) / group.length + coarseVar + 1,
    flownH: flownHours.map((hours) => hoursAt(flight, hours, atMs)),
    flownByDay: starts.map((start, d) =>
      Math.max(0, flown(Math.min(atMs, starts[d + 1] ?? atMs)) - flown(start)),
    ),
    ofDay: starts.map((start) =>
      Math.min(1, Math.max(0, (atMs - Math.max(start, readings.movedAtMs)) / (24 * hourMs))),
    ),
    wet: roof[bin] ?? 0,
    raining: rainIn(readings.rain, firstMs - wetMs, firstMs),
    quiet: isQuiet(flight, atMs),
    sunDeg: flight.sunDeg[bin] ?? 0,
    activity: flight.activity[bin] ?? 0,
  };
}

/** Method: bins before one that must be quiet too. */
const quietBins = 4;
/** Method: flight that is none. */
const noFlight = 0.02;

/** No flight now, nor in the hour before: those who were out are home. */
function isQuiet(flight: Flight, atMs: number): boolean {
  const bin = Math.floor((atMs - flight.fromMs) / binMs);
  if ((flight.sunDeg[bin] ?? 0) > -1) return false;
  for (let i = Math.max(0, bin - quietBins); i <= bin; i++)
    if ((flight.activity[i] ?? 0) > noFlight) return false;
  return true;
}

/** Integral of the outside temperature less its mean since the move, K·h, at each row. */
function warmthUpTo(outside: Series, movedAtMs: number, rows: readonly DriftRow[]): Float64Array {
  const warmth = new Float64Array(rows.length);
  const from = indexAt(outside, movedAtMs);
  if (outside.atMs.length - from < leastOutside) return warmth;
  const part = outside.value.subarray(from, indexAt(outside, rows.at(-1)?.atMs ?? movedAtMs));
  if (part.length === 0) return warmth;
  const mean = part.reduce((sum, v) => sum + v, 0) / part.length;
  let sum = 0;
  let row = 0;
  let beforeMs = movedAtMs;
  for (let i = from; i < outside.atMs.length && row < rows.length; i++) {
    const at = outside.atMs[i] as number;
    while (row < rows.length && (rows[row] as DriftRow).atMs <= at) warmth[row++] = sum;
    sum += ((outside.value[i] as number) - mean) * (Math.min(at - beforeMs, oldHours * hourMs) / hourMs);
    beforeMs = at;
  }
  while (row < rows.length) warmth[row++] = sum;
  return warmth;
}

/** Method: quiet hours that make a night. */
const fewestQuietHours = 3;
/** Method: hours without one that end it. */
const nightOverHours = 6;

/** Nights with at least three quiet hours. */
function countNights(rows: readonly DriftRow[], movedAtMs: number): number {
  let nights = 0;
  let quietHours = 0;
  let lastMs = -Infinity;
  for (const { atMs, quiet } of rows) {
    if (!quiet) continue;
    if (atMs - lastMs > nightOverHours * hourMs) quietHours = 0;
    const before = quietHours;
    quietHours += grainAt(atMs - movedAtMs).night / hourMs;
    if (before < fewestQuietHours && quietHours >= fewestQuietHours) nights += 1;
    lastMs = atMs;
  }
  return nights;
}
