/**
 * The probe, or the nest? A nest that cold defeats gives way slowly and holds as much warmth above the outside as it ever
 * did. Readings that fall within half an hour, or that hold far less than the same nest held a day before, are no chilling:
 * the probe lies outside of the brood, or the bees are gone. Only a look, or a second probe, tells these two apart.
 */
import { tenths } from '../statistics/intervals.ts';
import {
  boxLagHours,
  cageInNestC,
  combLagHours,
  nestShiftK,
  leftWithinHours,
  outsideAtOnceK,
  outsideSwingK,
  outsideWithinK,
} from '../../biology/nest-figures.ts';
import { degC, kelvin, say, type Sentence } from '../../words/phrase.ts';
import { heldByK } from '../chill/heat-margin.ts';
import { lagged, valueAt } from '../bins.ts';
import { between, hourMs } from '../series.ts';
import { median, quantiles } from '../statistics/robust.ts';
import type { KnownEvent, MassDeparture, ProbePlace, Series } from '../types.ts';
import { coldC, heldForMs, lastDoubt, suddenK } from './probe-doubt.ts';
import { dayMs } from '../../durations.ts';

export interface ProbePlaceInput {
  readonly brood: Series;
  /** Its newest reading, which a page shows beside it; else the newest of `brood` is told. */
  readonly latestC?: number;
  readonly outside: Series;
  /** A second probe in the same nest: its witness. */
  readonly cageC?: Series;
  readonly events: readonly KnownEvent[];
  readonly nowMs: number;
  /** Absent where nobody counted: then only what the nest itself held tells what it can hold. */
  readonly bees?: number;
}

/** Method: looked back over for longer than hands stay off a nuc: until then nobody puts a probe back. */
const spanMs = 12 * dayMs;
const boxLagMs = boxLagHours.value * hourMs;
const combLagMs = combLagHours.value * hourMs;

export const placeUnknown = (why: Sentence): ProbePlace => ({
  state: 'cannot-tell',
  sinceMs: null,
  how: null,
  doubts: [],
  putBackMs: null,
  why,
});

export function probePlace(input: ProbePlaceInput): ProbePlace {
  const { events, nowMs } = input;
  const fromMs = nowMs - spanMs;
  const brood = between(input.brood, fromMs, nowMs + 1);
  if (brood.atMs.length === 0) return placeUnknown('no brood temperature in the last days');
  // Doubt begins with a cold reading: most nests have none.
  if (brood.value.every((tempC) => tempC >= coldC))
    return {
      state: 'in-nest',
      sinceMs: null,
      how: null,
      doubts: [],
      putBackMs: null,
      why: 'it reads as a nest does',
    };
  const around = between(input.outside, fromMs - heldForMs, nowMs + 1);
  const outside = { box: lagged(around, boxLagMs), combs: lagged(around, combLagMs) };
  const visits = events.map((e) => e.atMs).filter((atMs) => atMs <= nowMs);
  const canHoldK = input.bees === undefined ? Infinity : heldByK(input.bees);
  const { doubt, ...ended } = lastDoubt(brood, outside, visits, canHoldK);
  const inNest = { state: 'in-nest', sinceMs: null, how: null, ...ended } as const;
  if (doubt === null) return { why: 'it reads as a nest does', ...inNest };
  const cage = cageWitness(input.cageC, doubt.sinceMs, brood.value.at(-1) as number, nowMs);
  if (cage === 'fell') return { why: 'the cage cooled with it, so it is the nest', ...inNest };
  const { how, sinceMs } = doubt;
  const latestC = input.latestC ?? (brood.value.at(-1) as number);
  const words = {
    sudden: say`It fell within half an hour, which no nest does, and reads ${degC(latestC)} now`,
    'held-more':
      doubt.heldK > 0
        ? say`It holds ${kelvin(doubt.heldK)} above the outside, and held ${kelvin(doubt.usualK)} a day before`
        : say`It is no warmer than the outside, and held ${kelvin(doubt.usualK)} above it a day before`,
    'never-warm': say`It has not been as warm as brood for hours on end lately, and reads ${degC(latestC)} now`,
    long: say`It has not been as warm as brood for a day, and reads ${degC(latestC)} now`,
  }[how];
  if (cage === 'warm')
    return { state: 'slipped', sinceMs, how, ...ended, why: say`${words}; the cage has stayed warm` };
  if (readsOutside(between(brood, Math.max(sinceMs, nowMs - dayMs), nowMs + 1), input.outside))
    return { state: 'slipped', sinceMs, how, ...ended, why: say`${words}, the same as the outside probe` };
  return { state: 'unclear', sinceMs, how, ...ended, why: words };
}

/** Method: share of the readings that must have an outside beside them. */
const mostPairs = 0.8;

function readsOutside(brood: Series, outside: Series): boolean {
  const pairs = Array.from(brood.atMs, (atMs, i) => ({
    outsideC: valueAt(outside, atMs, hourMs),
    broodC: brood.value[i] as number,
  })).filter(({ outsideC }) => !Number.isNaN(outsideC));
  const coveredMs = (brood.atMs.at(-1) ?? 0) - (brood.atMs[0] ?? 0);
  if (coveredMs < dayMs / 2 || pairs.length < mostPairs * brood.atMs.length) return false;
  const outsideC = pairs.map((pair) => pair.outsideC);
  if (Math.max(...outsideC) - Math.min(...outsideC) < outsideSwingK.value) return false;
  const apart = pairs.map((pair) => pair.broodC - pair.outsideC);
  const usual = median(apart);
  const [off] = quantiles(
    apart.map((k) => Math.abs(k - usual)),
    tenths.high,
  ) as [number];
  return Math.abs(usual) <= outsideWithinK.value && off <= outsideAtOnceK.value;
}

const leftWithinMs = leftWithinHours.value * hourMs;

/**
 * Why cold readings day after day are the probe's and not the nest's; null where they may be the nest's. A fall within half
 * an hour is a probe that slipped, unless the scale saw bees leave with it.
 */
export function probeNotNest(
  { state, how, sinceMs, why }: ProbePlace,
  departures: readonly Pick<MassDeparture, 'fromMs'>[],
): Sentence | null {
  if (state === 'slipped') return why;
  if (state !== 'unclear' || how !== 'sudden' || sinceMs === null) return null;
  const didLeave = departures.some(({ fromMs }) => Math.abs(fromMs - sinceMs) <= leftWithinMs);
  return didLeave ? null : why;
}

/** Method: so long after bees left in a mass a cold nest is their doing: too few are left to heat it. */
const leftLatelyMs = 3 * dayMs;

/** Whether the scale saw bees leave before the probe came into doubt: then it is the nest that is cold. */
export function isColdSinceBeesLeft(
  { state, sinceMs }: ProbePlace,
  departures: readonly Pick<MassDeparture, 'fromMs' | 'likeAHand'>[],
): boolean {
  if (state !== 'unclear' || sinceMs === null) return false;
  const before = (atMs: number): boolean => atMs <= sinceMs && sinceMs - atMs <= leftLatelyMs;
  return departures.some(({ fromMs, likeAHand }) => !likeAHand && before(fromMs));
}

/** What the probe reads may be of another place than the nest: neither its cold nor a night ahead is the brood's. */
export const isProbeInDoubt = (
  place: ProbePlace,
  departures: readonly Pick<MassDeparture, 'fromMs' | 'likeAHand'>[],
): boolean =>
  (place.state === 'unclear' || place.state === 'slipped') && !isColdSinceBeesLeft(place, departures);

/** Method: readings without which a witness says nothing. */
const leastWitnesses = 3;
/** Method: hours before the fall that are compared. */
const witnessHours = 3;

/** What the probe at the cage did since: it stayed warm, it fell too, or it can't tell. */
function cageWitness(
  cageC: Series | undefined,
  sinceMs: number,
  broodC: number,
  nowMs: number,
): 'warm' | 'fell' | null {
  const before = between(cageC, sinceMs - witnessHours * hourMs, sinceMs - hourMs).value;
  const now = between(cageC, nowMs - hourMs, nowMs + 1).value;
  if (before.length < leastWitnesses || now.length < leastWitnesses) return null;
  const [beforeC, nowC] = [median(before), median(now)];
  if (beforeC < cageInNestC.value) return null;
  // In one nest the cage hangs no warmer than the brood, also where a cold night has cooled both.
  if (nowC - broodC >= nestShiftK.value) return 'warm';
  return beforeC - nowC >= suddenK ? 'fell' : null;
}
