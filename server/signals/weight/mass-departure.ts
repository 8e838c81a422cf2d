/** Left in a mass: bees that go together within the hour, by daylight. */
import {
  departureBackLaterShare,
  departureBackShare,
  departureCoolsHours,
  departureCoolsK,
  departureMinutes,
  departureShare,
  departureSureShare,
  nearStepMinutes,
  standingHours,
  departureBackHours,
  departureBackMinutes,
  departureUnderShare,
  handCoolsAtMostK,
} from '../../biology/scale-figures.ts';
import { tenths } from '../statistics/intervals.ts';
import { grams, minutes, say } from '../../words/phrase.ts';
import { highEnd } from '../../biology/figure.ts';
import { departingLoad, departureAtMostG, massDepartureG } from '../../biology/weight-figures.ts';
import { binMs, type Bins } from '../bins.ts';
import type { Flight } from '../drift/flight.ts';
import { between, hourMs, indexAt, minuteMs } from '../series.ts';
import { median, quantiles } from '../statistics/robust.ts';
import type { MassDeparture, Series, WeightStep } from '../types.ts';

const longestBins = (departureMinutes.value * minuteMs) / binMs;
/** Method: bins on each side that must hold their level. */
const sideBins = 3;
/** Method: the part of a fall that its shortest window takes. */
const mostOfFall = 0.9;
/** Method: noise of a level, at least. */
const leastSdG = 5;
/** Method: the brood’s level before a fall is that of so long. */
const levelMs = 2 * hourMs;
/** Method: the same where readings come seldom. */
const seldomLevelMs = 4 * hourMs;
const nearMs = nearStepMinutes.value * minuteMs;
const beforeMs = standingHours.value * hourMs;
const soonMs = departureBackMinutes.value * minuteMs;
const backWithinMs = departureBackHours.value * hourMs;

export interface DepartureInput {
  readonly weight: Bins;
  /** Asked for where it fell so far at all, and so is the flight. */
  readonly brood: Series;
  readonly flight: Flight;
  readonly steps: readonly WeightStep[];
  readonly fromMs: number;
  readonly toMs: number;
  /** Mass of the bees in the box, g, where it is known: a departure takes a large part of it. */
  readonly beesG?: number;
  /** The most that they can weigh, with all that has emerged; `beesG` unless told. */
  readonly mostBeesG?: number;
}

/**
 * Falls of at least 0.3 kg within an hour of daylight, steep against the hours on both sides, that no step of the
 * scale explains, of no more than the bees of this box can weigh, down to a level that lies under the hours before, and
 * undone once the weight comes back.
 */
export function massDepartures(input: DepartureInput): MassDeparture[] {
  const { weight, fromMs, toMs, steps } = input;
  const least = Math.max(massDepartureG.value, departureShare.value * (input.beesG ?? 0));
  const mostBeesG = input.mostBeesG ?? input.beesG;
  const bees = mostBeesG === undefined ? departureAtMostG.value : (1 + highEnd(departingLoad)) * mostBeesG;
  const most = Math.max(bees, massDepartureG.value);
  const sureG = mostBeesG === undefined ? Infinity : departureSureShare.value * mostBeesG;
  const falls = fallsOf(weight, least, fromMs, toMs);
  const sudden = lossesBetweenReadings(steps, least, most, fromMs, toMs);
  if (falls.length === 0 && sudden.length === 0) return [];
  const { brood, flight } = input;
  const found: MassDeparture[] = [];
  for (const i of falls) {
    const at = weight.atMs[i] as number;
    if (!isDay(flight, at)) continue;
    const fall = steepestFrom(weight, i);
    if (!fall || fall.lossG < least) continue;
    if (steps.some((s) => (s.untilMs ?? s.atMs) > at - nearMs && s.atMs < fall.toMs + nearMs)) continue;
    if (!isUnderHoursBefore(weight, at, fall, steps) || !stayedAway(weight, fall, steps)) continue;
    const followed = temperatureFell(brood, at, departureCoolsK.value);
    if (followed !== true && goesOn(weight, fall, steps)) continue;
    // A window that only reaches into the fall shows a part of it: the one with the largest loss is kept.
    const previous = found.at(-1);
    if (previous && at - previous.toMs < hourMs) {
      if (fall.lossG <= previous.lossG) continue;
      found.pop();
    }
    found.push({
      fromMs: at,
      toMs: fall.toMs,
      lossG: fall.lossG,
      lossSdG: fall.sdG,
      temperatureFollowed: followed,
      ...(fall.lossG >= sureG && { moreThanFly: true }),
      homeByMs: duskAfter(flight, fall.toMs),
      why: say`${grams(fall.lossG)} less within ${minutes((fall.toMs - at) / minuteMs)} by daylight, and not back an hour later`,
    });
  }
  // Only the whole fall tells whether it is too much: a window that reaches into it shows less.
  return [
    ...found.filter(({ lossG }) => lossG <= most),
    ...sudden.flatMap((step) => ifBees(step, input)),
  ].sort((a, b) => a.fromMs - b.fromMs);
}

/** Bees that are gone, not out: the brood cooled after it, more are away than fly, or dusk came and they are not home. */
export const isSure = (
  { temperatureFollowed, moreThanFly, toMs, homeByMs }: MassDeparture,
  nowMs: number,
): boolean =>
  temperatureFollowed === true ||
  (moreThanFly === true && nowMs >= toMs + hourMs) ||
  (homeByMs !== null && nowMs >= homeByMs);

/** Losses between two readings that nobody logged, of what bees of this box can weigh. */
const lossesBetweenReadings = (
  steps: readonly WeightStep[],
  least: number,
  most: number,
  fromMs: number,
  toMs: number,
): WeightStep[] =>
  steps.filter(
    ({ atMs, sizeG, kind, explainedBy }) =>
      !explainedBy &&
      (kind === 'taken' || kind === 'unexplained') &&
      atMs >= fromMs &&
      atMs < toMs &&
      -sizeG >= least &&
      -sizeG <= most,
  );

/**
 * Bees gone between two readings leave the step of a hand that takes something out. The brood tells them apart: an opened
 * nest is warm again within the hour, one that its bees left is not.
 */
function ifBees(step: WeightStep, { weight, steps, flight, brood }: DepartureInput): MassDeparture[] {
  const { atMs, untilMs = atMs, sizeSdG } = step;
  const lossG = -step.sizeG;
  if (!isDay(flight, atMs) || !fellUnlikeYesterday(brood, atMs, handCoolsAtMostK.value)) return [];
  const after = between(weight, untilMs, Infinity).value.subarray(0, sideBins);
  if (after.length === 0 || !stayedAway(weight, { toMs: untilMs, afterG: median(after), lossG }, steps))
    return [];
  return [
    {
      fromMs: atMs,
      toMs: untilMs,
      lossG,
      lossSdG: sizeSdG,
      temperatureFollowed: true,
      likeAHand: true,
      homeByMs: duskAfter(flight, untilMs),
      why: say`${grams(lossG)} less within ${minutes((untilMs - atMs) / minuteMs)} by daylight, and the brood cooled after it`,
    },
  ];
}

/** Bins of [fromMs, toMs) from which on it may have fallen so far: on most days none. */
function fallsOf(weight: Bins, least: number, fromMs: number, toMs: number): number[] {
  const falls: number[] = [];
  const first = Math.max(sideBins, indexAt(weight, fromMs));
  const end = Math.min(weight.atMs.length - sideBins, indexAt(weight, toMs));
  for (let i = first; i < end; i++) if (mostFallFrom(weight, i) >= least) falls.push(i);
  return falls;
}

function isDay(flight: Flight, atMs: number): boolean {
  return (flight.sunDeg[Math.floor((atMs - flight.fromMs) / binMs)] ?? -1) > 0;
}

/** No fall from bin `i` on can be larger: highest of the bins before less lowest of those after. Cheap beside medians. */
function mostFallFrom({ value }: Bins, i: number): number {
  let highest = -Infinity;
  for (let j = i - sideBins; j < i; j++) highest = Math.max(highest, value[j] as number);
  let lowest = Infinity;
  const to = Math.min(value.length, i + longestBins + sideBins);
  for (let j = i; j < to; j++) lowest = Math.min(lowest, value[j] as number);
  return highest - lowest;
}

interface Fall {
  readonly lossG: number;
  readonly sdG: number;
  readonly toMs: number;
  readonly afterG: number;
}

/** The hour's fall from bin `i` on, and the shortest window that takes nine tenths of it. */
function steepestFrom(weight: Bins, i: number): Fall | null {
  const before = weight.value.subarray(i - sideBins, i);
  if ((weight.atMs[i] as number) - (weight.atMs[i - sideBins] as number) > (sideBins + 2) * binMs)
    return null;
  const levelBefore = median(before);
  const slopeBefore = ((before[sideBins - 1] as number) - (before[0] as number)) / (sideBins - 1);
  const levels: { toMs: number; afterG: number; lossG: number; bins: number }[] = [];
  for (let k = 1; k <= longestBins && i + k + sideBins <= weight.atMs.length; k++) {
    const after = weight.value.subarray(i + k, i + k + sideBins);
    const afterG = median(after);
    levels.push({ toMs: weight.atMs[i + k] as number, afterG, lossG: levelBefore - afterG, bins: k });
  }
  const deepest = Math.max(...levels.map((l) => l.lossG));
  const chosen = levels.find((l) => l.lossG >= mostOfFall * deepest);
  if (!chosen || chosen.toMs - (weight.atMs[i] as number) > (longestBins + 2) * binMs) return null;
  // What was already on its way down, morning foragers say, is not a mass departure.
  const ordinary = Math.max(0, -slopeBefore) * (chosen.bins + sideBins);
  const spread = Math.max(leastSdG, ...Array.from(before, (v) => Math.abs(v - levelBefore)));
  return { lossG: deepest - ordinary, sdG: spread, toMs: chosen.toMs, afterG: chosen.afterG };
}

/** By the half of the loss at least: a hump of foraging that comes down again ends where the morning began. */
function isUnderHoursBefore(weight: Bins, atMs: number, fall: Fall, steps: readonly WeightStep[]): boolean {
  const stepMs = steps.findLast((step) => (step.untilMs ?? step.atMs) < atMs)?.atMs ?? -Infinity;
  const before = between(weight, Math.max(atMs - beforeMs, stepMs + nearMs), atMs).value;
  if (before.length < sideBins) return true;
  const [low] = quantiles(before, tenths.low) as [number];
  return low - fall.afterG >= departureUnderShare.value * fall.lossG;
}

/** Method: a steady fall of an hour loses four tenths of itself again by the end of the next; bees that leave together are gone by then. */
const againShare = 1 / 3;

/** It goes on and on, as when honey is carried off. */
function goesOn(weight: Bins, { toMs, afterG, lossG }: Fall, steps: readonly WeightStep[]): boolean {
  const endMs = toMs + hourMs;
  if (steps.some((step) => (step.untilMs ?? step.atMs) > toMs && step.atMs < endMs)) return false;
  const last = between(weight, endMs - sideBins * binMs, endMs + binMs / 2).value;
  return last.length >= sideBins && afterG - median(last) >= againShare * lossG;
}

/** Method: a step sized worse than this share of the loss hides what comes back after it. */
const wellSized = 0.3;

/** Nothing like the loss came back, within the hour and a half or until the next day; what a step added or took is taken out. */
function stayedAway(
  weight: Bins,
  { toMs, afterG, lossG }: Omit<Fall, 'sdG'>,
  steps: readonly WeightStep[],
): boolean {
  const later = steps.filter((step) => step.atMs > toMs);
  const endMs = later.find(({ sizeSdG }) => sizeSdG > wellSized * lossG)?.atMs ?? Infinity;
  const soon = between(weight, toMs + nearMs, Math.min(toMs + soonMs, later[0]?.atMs ?? Infinity)).value;
  if (soon.length > 0 && median(soon) >= afterG + departureBackShare.value * lossG) return false;
  const { atMs, value } = between(weight, toMs + soonMs, Math.min(toMs + backWithinMs, endMs));
  const levels = Array.from(value, (g, i) => withoutStepsAt(atMs[i] as number, g, later)).filter(
    Number.isFinite,
  );
  if (levels.length < sideBins) return true;
  const [high] = quantiles(levels, tenths.high) as [number];
  return high < afterG + departureBackLaterShare.value * lossG;
}

/** Weight as if no step had been; NaN while one is under way. */
function withoutStepsAt(atMs: number, massG: number, steps: readonly WeightStep[]): number {
  let g = massG;
  for (const step of steps) {
    if (step.atMs >= atMs) break;
    if ((step.untilMs ?? step.atMs) + binMs > atMs) return NaN;
    g -= step.sizeG;
  }
  return g;
}

/** First bin after `atMs` in which the sun is down. */
function duskAfter({ sunDeg, fromMs }: Flight, atMs: number): number | null {
  for (let i = Math.max(0, Math.ceil((atMs - fromMs) / binMs)); i < sunDeg.length; i++)
    if ((sunDeg[i] as number) <= 0) return fromMs + i * binMs;
  return null;
}

/** Whether the brood is cooler by `leastK` in the six hours after than in the hours before; null without readings. */
function temperatureFell(brood: Series, atMs: number, leastK: number): boolean | null {
  const change = temperatureChange(brood, atMs);
  return change === null ? null : change < -leastK;
}

/** The same beside the day before at that time, where it is known: a weak nest cools with every evening. */
function fellUnlikeYesterday(brood: Series, atMs: number, leastK: number): boolean {
  const yesterday = temperatureChange(brood, atMs - 24 * hourMs) ?? 0;
  return temperatureFell(brood, atMs, leastK - Math.min(0, yesterday)) === true;
}

function temperatureChange(brood: Series, atMs: number): number | null {
  const lately = between(brood, atMs - levelMs, atMs).value;
  const before = lately.length < sideBins ? between(brood, atMs - seldomLevelMs, atMs).value : lately;
  const after = between(brood, atMs + hourMs, atMs + departureCoolsHours.value * hourMs).value;
  if (before.length < sideBins || after.length < sideBins) return null;
  return median(after) - median(before);
}
