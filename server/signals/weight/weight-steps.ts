/**
 * Weight steps: box opened, lifted or toppled, frame or feed added or taken. A step is fast (minutes), lasting,
 * and unlike bees that leave together (tens of minutes) or water on the roof (in rain).
 */
import { tenths } from '../statistics/intervals.ts';
import { rainGainAtMostG } from '../../biology/weather-figures.ts';
import {
  goneShare,
  handMinutes,
  homecomingMinutes,
  liftedShare,
  logReachMinutes,
  nearStepMinutes,
  noGustG,
  openedG,
  stepG,
  toppledShare,
  unseenGPerH,
  flightOutMinutes,
} from '../../biology/scale-figures.ts';
import { findDisturbances, type Disturbance } from './disturbances.ts';
import { fitStep, type StepFit } from './step-size.ts';
import { hourMs, indexAt, minuteMs, usualIntervalMs } from '../series.ts';
import { rainIn } from '../drift/flight.ts';
import type { KnownEvent, Series, StepKind, WeightStep } from '../types.ts';

const leastStepG = stepG.value;
const leastDisturbanceG = openedG.value;
const eventReachMs = logReachMinutes.value * minuteMs;
const nearMs = nearStepMinutes.value * minuteMs;
/** Method: a gap that is one. */
const leastGapMs = 40 * minuteMs;
/** Method: errors that a lasting step exceeds. */
const lastingSd = 4;
/** Method: the middle part of a change, in which readings are on the way. */
const onTheWayShare = 0.12;

export interface StepContext {
  readonly events: readonly KnownEvent[];
  readonly rain?: Series;
}

/** Steps with `atMs` in [fromMs, toMs). `weight`, spikes and all, should reach two hours beyond on both sides. */
export function weightSteps(
  weight: Series,
  fromMs: number,
  toMs: number,
  context: StepContext,
): WeightStep[] {
  const interval = usualIntervalMs(weight);
  if (interval === null) return [];
  const disturbances = findDisturbances(weight, interval);
  const steps: WeightStep[] = [];
  disturbances.forEach((disturbance, i) => {
    if (disturbance.fromMs < fromMs || disturbance.fromMs >= toMs) return;
    const around = {
      fromMs: disturbances[i - 1]?.toMs ?? -Infinity,
      toMs: disturbances[i + 1]?.fromMs ?? Infinity,
    };
    const step = readStep(weight, interval, disturbance, around, context);
    if (step) steps.push(step);
  });
  return steps;
}

interface Readings {
  readonly at: number[];
  readonly value: number[];
}

/** Method: a side wants this many readings … */
const wantedReadings = 5;
/** Method: … and takes them from this far at most where a gap lies between. */
const furthestMs = 8 * hourMs;
/** Method: how far a quick sensor’s readings belong to a disturbance. */
const quickReachMs = hourMs;
/** Method: how far a slow sensor’s do. */
const slowReachMs = 1.75 * hourMs;

/** Readings around a disturbance that belong to it alone: an hour, and more where they come seldom. */
function readingsAround(weight: Series, interval: number, d: Disturbance, free: Disturbance): Readings {
  const reachMs = interval > quickMs ? slowReachMs : quickReachMs;
  const last = indexAt(weight, d.fromMs + 1) - 1;
  const first = indexAt(weight, d.toMs);
  let from = indexAt(weight, Math.max(d.fromMs - reachMs, free.fromMs));
  let to = indexAt(weight, Math.min(d.toMs + reachMs, free.toMs) + 1);
  const at = (i: number): number => weight.atMs[i] ?? NaN;
  while (last - from + 1 < wantedReadings && at(from - 1) >= Math.max(d.fromMs - furthestMs, free.fromMs))
    from -= 1;
  while (to - first < wantedReadings && at(to) <= Math.min(d.toMs + furthestMs, free.toMs)) to += 1;
  return {
    at: Array.from(weight.atMs.subarray(from, to)),
    value: Array.from(weight.value.subarray(from, to)),
  };
}

function readStep(
  weight: Series,
  interval: number,
  disturbance: Disturbance,
  free: Disturbance,
  context: StepContext,
): WeightStep | null {
  const { at, value } = readingsAround(weight, interval, disturbance, free);
  const fit = fitStep(at, value, disturbance.fromMs, disturbance.toMs);
  if (!fit) return null;
  const inside = value.filter(
    (_, i) => (at[i] as number) > disturbance.fromMs && (at[i] as number) < disturbance.toMs,
  );
  const excursionG = excursion(inside, fit, interval);
  const explainedBy = explanation(context.events, disturbance);
  const isDisturbed = excursionG >= leastDisturbanceG;
  const gapMs = longestGap(at, disturbance);
  const unseenG = gapMs > leastGapMs && !explainedBy ? (unseenGPerH.value * gapMs) / hourMs : 0;
  const lasting = Math.abs(fit.sizeG) >= Math.max(leastStepG, lastingSd * fit.sdG) + unseenG;
  if (!isDisturbed && !lasting) return null;
  if (!isDisturbed && !explainedBy) {
    if (isSlow(at, value, fit, disturbance, interval)) return null;
    if (gapMs <= leastGapMs && isFlight(at, value, fit, disturbance, interval)) return null;
    if (isRain(context.rain, disturbance, fit.sizeG)) return null;
  }
  const step = {
    atMs: disturbance.fromMs,
    untilMs: disturbance.toMs,
    sizeG: fit.sizeG,
    sizeSdG: fit.sdG,
  };
  if (isDisturbed && !lasting && !explainedBy && gapMs <= leastGapMs && isLoad(inside, fit))
    return { ...step, kind: 'loaded', loadG: Math.max(...inside) - highG(fit) };
  return {
    ...step,
    kind: unseenG > 0 ? 'unexplained' : kindOf(fit, excursionG, isDisturbed, lasting, explainedBy),
    ...(explainedBy ? { explainedBy } : {}),
  };
}

/** Method: a sensor this quick reads twice while a box is open; a single reading of it may be a gust of wind or a fault. */
const quickMs = 3 * minuteMs;

/** The lower and the higher of the levels beside a disturbance. */
const lowG = ({ beforeG, sizeG }: StepFit): number => Math.min(beforeG, beforeG + sizeG);
const highG = ({ beforeG, sizeG }: StepFit): number => Math.max(beforeG, beforeG + sizeG);

/** How far two or more readings, or one by far, inside a disturbance lie from both levels, g: lid off, box up. */
function excursion(inside: readonly number[], fit: StepFit, interval: number): number {
  const [furthest = 0, second = 0] = inside
    .map((v) => Math.max(0, lowG(fit) - v, v - highG(fit)))
    .sort((one, other) => other - one);
  return interval > quickMs || furthest >= noGustG.value ? furthest : second;
}

/** It only weighed more: a lid that is off, or a box that is lifted, weighs less. */
const isLoad = (inside: readonly number[], fit: StepFit): boolean =>
  inside.every((v) => lowG(fit) - v < leastDisturbanceG);

function longestGap(at: readonly number[], d: Disturbance): number {
  let longest = 0;
  for (let i = 1; i < at.length; i++) {
    if ((at[i] as number) <= d.fromMs || (at[i - 1] as number) >= d.toMs) continue;
    longest = Math.max(longest, (at[i] as number) - (at[i - 1] as number));
  }
  return longest;
}

/** Method: noise on the way, in standard deviations. */
const noiseSd = 3;
/** Method: one reading and a half. */
const halfMore = 1.5;

/**
 * Whether readings on the way from one level to the other show that it took longer than a hand takes: for a fall
 * four minutes (bees leave together within ten to forty), for a gain twenty (bees come home within the hour).
 */
function isSlow(
  at: readonly number[],
  value: readonly number[],
  fit: StepFit,
  d: Disturbance,
  interval: number,
): boolean {
  const onTheWay = at.filter((t, i) => {
    if (t < d.fromMs - nearMs || t > d.toMs + nearMs) return false;
    const trendG = (fit.slopeGPerH * (t - d.fromMs)) / hourMs;
    const share = ((value[i] as number) - trendG - fit.beforeG) / fit.sizeG;
    const noise = (noiseSd * fit.residualSd) / Math.abs(fit.sizeG);
    return share > Math.max(onTheWayShare, noise) && share < 1 - Math.max(onTheWayShare, noise);
  });
  if (onTheWay.length === 0) return false;
  const span = (onTheWay.at(-1) as number) - (onTheWay[0] as number) + interval;
  return (
    span > Math.max((fit.sizeG < 0 ? handMinutes : homecomingMinutes).value * minuteMs, halfMore * interval)
  );
}

/** Method: readings that it takes. */
const flightReadings = 2.5;
/** Method: the share of them that must be on the way. */
const mostOnTheWay = 0.4;

/** No hand takes so long from one level to the other: bees that fly out in the morning, or come home at dusk. */
function isFlight(
  at: readonly number[],
  value: readonly number[],
  { beforeG, sizeG }: StepFit,
  { fromMs, toMs }: Disturbance,
  interval: number,
): boolean {
  if (toMs - fromMs <= Math.max(flightOutMinutes.value * minuteMs, flightReadings * interval)) return false;
  const inside = value.filter((_, i) => (at[i] as number) > fromMs && (at[i] as number) < toMs);
  const between = inside.filter(
    (v) => (v - beforeG) / sizeG > tenths.low && (v - beforeG) / sizeG < tenths.high,
  );
  return between.length >= Math.max(2, mostOnTheWay * inside.length);
}

/** Water on the roof: a gain while it rains that a roof can hold. */
const isRain = (rain: Series | undefined, d: Disturbance, sizeG: number): boolean =>
  sizeG > 0 && sizeG < rainGainAtMostG.value && rainIn(rain, d.fromMs - nearMs, d.toMs + nearMs);

function explanation(events: readonly KnownEvent[], d: Disturbance): KnownEvent | undefined {
  let best: KnownEvent | undefined;
  let distance = eventReachMs;
  for (const event of events) {
    const away = Math.max(d.fromMs - event.atMs, event.atMs - d.toMs, 0);
    if (away > distance) continue;
    best = event;
    distance = away;
  }
  return best;
}

function kindOf(
  fit: StepFit,
  excursionG: number,
  isDisturbed: boolean,
  lasting: boolean,
  explainedBy: KnownEvent | undefined,
): StepKind {
  const afterG = fit.beforeG + fit.sizeG;
  if (afterG < goneShare.value * fit.beforeG) return 'gone';
  if (fit.sizeG < -toppledShare.value * fit.beforeG) return 'toppled';
  if (!explainedBy && isDisturbed && excursionG > liftedShare.value * Math.min(fit.beforeG, afterG))
    return 'lifted';
  if (lasting && explainedBy?.kind === 'fed' && fit.sizeG > 0) return 'fed';
  if (lasting && (explainedBy !== undefined || !isDisturbed)) return fit.sizeG > 0 ? 'added' : 'taken';
  return 'opened';
}
