/** Whether a nuc's readings were at rest between two instants, so that nothing came and went unseen in between. */
import {
  broodHotC,
  openBroodColdC,
  queenColdC,
  queenHotC,
  sealedBroodColdC,
} from '../biology/thermal-figures.ts';
import { boxGone } from '../rules/catalogue/box/box-gone.ts';
import { boxLifted } from '../rules/catalogue/box/box-lifted.ts';
import { boxToppled } from '../rules/catalogue/box/box-toppled.ts';
import { broodChilling } from '../rules/catalogue/temperature/brood-chilling.ts';
import { broodTooHot } from '../rules/catalogue/temperature/brood-too-hot.ts';
import { cageTooCold } from '../rules/catalogue/temperature/cage-too-cold.ts';
import { cageTooHot } from '../rules/catalogue/temperature/cage-too-hot.ts';
import { chillingAhead } from '../rules/catalogue/temperature/chilling-ahead.ts';
import { chillingTonight } from '../rules/catalogue/temperature/chilling-tonight.ts';
import { disturbedInHandsOff } from '../rules/catalogue/visits/disturbed-in-hands-off.ts';
import { leftInAMass } from '../rules/catalogue/foragers/left-in-a-mass.ts';
import type { LimitValues, Rule } from '../rules/engine/rule.ts';
import { tooWeakToKeepWarm } from '../rules/catalogue/temperature/too-weak-to-keep-warm.ts';
import { binMs, binsOf } from '../signals/bins.ts';
import { minutesToLimit } from '../signals/chill/cooling.ts';
import { between, indexAt, latest } from '../signals/series.ts';
import type { NucSeries, Series } from '../signals/types.ts';

/** A series silent for longer says no more to some rule. */
const longestGapMs = 20 * 60_000;

const broodColdC = Math.max(openBroodColdC.value, sealedBroodColdC.value);

/** What the limits in force make of a reading. */
export interface RestLimits {
  /** Within so many degrees of a limit a finding may come and go: the widest *easier* of the rules about cold and heat. */
  readonly nearK: number;
  /** Brood temperatures at which one of these rules says something else, °C. */
  readonly broodEdgesC: readonly number[];
  /** A fall is told when the limit would be reached within so long, ms. */
  readonly aheadMs: number;
  /** Loss of weight that is told, g. */
  readonly lossG: number;
  /** A reading older than this counts as none, ms. */
  readonly staleMs: number;
  /** How long the chance of a cold night has to last until it is told, ms. */
  readonly nightHoldMs: number;
}

/** As set by default. */
const usualLimits: RestLimits = {
  nearK: 1,
  broodEdgesC: [broodColdC, broodColdC + 0.5, broodColdC + 1, broodHotC.value - 0.5, broodHotC.value],
  aheadMs: 150 * 60_000,
  lossG: 300,
  staleMs: 60 * 60_000,
  nightHoldMs: chillingTonight.holdMin * 60_000,
};

/** The same of the limits in force for a nuc, and of a calm night ahead, in which only a limit that is close makes a fall count. */
export function restLimits(limitsOf: (rule: Rule) => LimitValues): {
  rest: RestLimits;
  restInCalm: RestLimits;
} {
  const set = (rule: Rule, name: string): number => limitsOf(rule)[name] ?? 0;
  const rest: RestLimits = {
    nearK: Math.max(usualLimits.nearK, ...easing.map((rule) => set(rule, 'easierK'))),
    broodEdgesC: [
      ...[0, set(broodChilling, 'easierK'), set(chillingAhead, 'easierK')].map((k) => broodColdC + k),
      ...[0, set(broodTooHot, 'easierK')].map((k) => broodHotC.value - k),
    ],
    aheadMs: set(chillingAhead, 'aheadMin') * 60_000,
    lossG: set(leftInAMass, 'lossG'),
    staleMs: Math.max(...easing.map((rule) => set(rule, 'staleMin'))) * 60_000,
    nightHoldMs: set(chillingTonight, 'holdMin') * 60_000,
  };
  const closeMs = set(chillingAhead, 'closeMin') * 60_000;
  return { rest, restInCalm: { ...rest, aheadMs: Math.min(rest.aheadMs, closeMs) } };
}

const easing: readonly Rule[] = [broodChilling, broodTooHot, chillingAhead, cageTooCold, cageTooHot];

/** How far a series may stray beyond its two ends; what rules tell apart is several times as large. */
interface Scatter {
  readonly by: number;
  /** Most that the ends may lie apart: a long fall is seen on its way, not from its two ends. */
  readonly apart: number;
  /** Near these any straying counts: a finding may come and go. */
  readonly limits: readonly number[];
}

const broodScatter: Scatter = {
  by: 0.25,
  apart: 1,
  limits: [openBroodColdC.value, sealedBroodColdC.value, broodHotC.value],
};
const cageScatter: Scatter = { by: 0.25, apart: Infinity, limits: [queenColdC.value, queenHotC.value] };
/** A scale in the sun and wind, and foragers out: up to half of what is told as a loss. */
const weightScatter = ({ lossG }: RestLimits): Scatter => ({ by: lossG / 2, apart: Infinity, limits: [] });

/** True where brood, cage and weight stay within what their two ends span, but for their scatter, and no fall is thought on. */
export const atRest = (
  { broodC, cageC, weightG }: NucSeries,
  fromMs: number,
  toMs: number,
  limits = usualLimits,
): boolean =>
  !fallIsToldWithin(broodC, fromMs, toMs, limits) &&
  !growsStaleBeyond(broodC, fromMs, toMs, isBroodLimit, limits) &&
  !growsStaleBeyond(cageC, fromMs, toMs, isCageLimit, limits) &&
  (keepsItsSide(broodC, fromMs, toMs, limits) || staysWithin(broodC, fromMs, toMs, broodScatter, limits)) &&
  (isFarFrom(cageC, fromMs, toMs, limits) || staysWithin(cageC, fromMs, toMs, cageScatter, limits)) &&
  staysWithin(weightG, fromMs, toMs, weightScatter(limits), limits);

/** Whether the weight stayed about what it was: no box was lifted, and no bees left in a mass. */
export const weightIsSteady = (
  { weightG }: NucSeries,
  fromMs: number,
  toMs: number,
  limits = usualLimits,
): boolean =>
  staysWithin(weightG, fromMs, toMs, { ...weightScatter(limits), apart: limits.lossG / 2 }, limits);

/** A step of weight is told of when it is seen to last, or to be undone. */
const stepToldAfterMs = 60 * 60_000;

/** Instants by which the steps of a scale are told of, nothing moving any more: an hour after the last of a run of jumps, ms. */
export function stepsToldMs({ weightG }: NucSeries, { lossG }: RestLimits): number[] {
  const toldMs: number[] = [];
  if (!weightG) return toldMs;
  const { atMs, value } = weightG;
  let jumpMs = -Infinity;
  for (let i = 1; i < value.length; i++) {
    if (Math.abs((value[i] as number) - (value[i - 1] as number)) < 2 * lossG) continue;
    const at = atMs[i] as number;
    if (at - jumpMs <= stepToldAfterMs) toldMs.pop();
    toldMs.push(at + stepToldAfterMs);
    jumpMs = at;
  }
  return toldMs;
}

export const toldByStep: ReadonlySet<string> = new Set(
  [boxLifted, boxToppled, boxGone, disturbedInHandsOff].map(({ id }) => id),
);

/** The rules that say within the hour what the brood probe and the cage probe tell. */
export const toldByWarmth: ReadonlySet<string> = new Set(
  [broodChilling, broodTooHot, chillingAhead, cageTooCold, cageTooHot, tooWeakToKeepWarm].map(({ id }) => id),
);

/** Those that go by the night ahead. */
export const toldByNight: ReadonlySet<string> = new Set([chillingTonight.id]);

/** A fall is told by the line through so long. */
const fallSpanMs = 90 * 60_000;
/** What is told a little later counts: readings are seen here as they came, not as they were cleaned. */
const sooner = 1.2;

/** Whether the fall up to a reading may be told as of `atMs`, when nothing more was read since. */
function fallIsTold(broodC: Series, i: number, atMs: number, aheadMs: number): boolean {
  if (!mayBeTold(broodC, i, aheadMs + atMs - (broodC.atMs[i] as number))) return false;
  const read = between(broodC, atMs - fallSpanMs, (broodC.atMs[i] as number) + 1);
  const left = minutesToLimit(binsOf(read), null, broodColdC, atMs);
  return left.ok && left.value * 60_000 <= sooner * aheadMs;
}

/** 1 told, 2 not, 0 not asked yet. */
type Marks = Uint8Array;

/** One stretch after another is asked of the same readings, and each by few distances. */
const fallsOf = new WeakMap<Series, Map<number, Marks>>();

/** A fall is thought on for a while where the probe says no more, and a limit comes nearer without a reading. */
const thoughtOnMs = 60 * 60_000;

/** The same at any instant up to the next reading. Rules may not have seen a reading before the end of its ten minutes. */
function fallIsToldAfter(broodC: Series, i: number, aheadMs: number): boolean {
  let byAhead = fallsOf.get(broodC);
  if (!byAhead) fallsOf.set(broodC, (byAhead = new Map<number, Marks>()));
  let marks = byAhead.get(aheadMs);
  if (!marks) byAhead.set(aheadMs, (marks = new Uint8Array(broodC.atMs.length)));
  if (marks[i] === 0) {
    const atMs = broodC.atMs[i] as number;
    const untilMs = Math.min(broodC.atMs[i + 1] ?? Infinity, atMs + thoughtOnMs);
    let askedMs = atMs + binMs;
    let told = fallIsTold(broodC, i, askedMs, aheadMs);
    for (; !told && askedMs < untilMs; askedMs += binMs)
      told = fallIsTold(broodC, i, askedMs + binMs, aheadMs);
    marks[i] = told ? 1 : 2;
  }
  return marks[i] === 1;
}

/** Whether a fall may be told between two instants. */
function fallIsToldWithin(
  broodC: Series | undefined,
  fromMs: number,
  toMs: number,
  { aheadMs }: RestLimits,
): boolean {
  if (!broodC) return false;
  const end = indexAt(broodC, toMs + 1);
  const next = indexAt(broodC, fromMs + 1);
  const lastMs = broodC.atMs[next - 1] ?? -Infinity;
  const isSilent = (broodC.atMs[next] ?? Infinity) - lastMs > longestGapMs;
  for (let i = isSilent && fromMs - lastMs <= thoughtOnMs ? next - 1 : next; i < end; i++)
    if ((broodC.value[i] as number) >= broodColdC && fallIsToldAfter(broodC, i, aheadMs)) return true;
  return false;
}

/** Rules most readings out at little cost: no line through an hour and a half is steeper than twice its largest fall in an hour. */
function mayBeTold({ atMs, value }: Series, i: number, withinMs: number): boolean {
  const v = value[i] as number;
  const fromMs = (atMs[i] as number) - fallSpanMs;
  let lowest = v;
  let fallK = 0;
  for (let j = i; j >= 0 && (atMs[j] as number) >= fromMs; j--) {
    lowest = Math.min(lowest, value[j] as number);
    fallK = Math.max(fallK, (value[j] as number) - lowest);
  }
  return v - broodColdC <= (2 * fallK * withinMs) / 3_600_000;
}

const isBroodLimit = (v: number): boolean => v < broodColdC || v > broodHotC.value;
const isCageLimit = (v: number): boolean => v < queenColdC.value || v > queenHotC.value;

/** A reading beyond a limit is believed for a while: what was found of it may end in a silence, with no other reading. */
function growsStaleBeyond(
  series: Series | undefined,
  fromMs: number,
  toMs: number,
  isBeyond: (v: number) => boolean,
  { staleMs }: RestLimits,
): boolean {
  if (!series) return false;
  const end = indexAt(series, toMs + 1);
  for (let i = Math.max(0, indexAt(series, fromMs + 1) - 1); i < end; i++) {
    const atMs = series.atMs[i] as number;
    const silentUntilMs = Math.min(series.atMs[i + 1] ?? Infinity, toMs);
    const isSilent = silentUntilMs - atMs > longestGapMs;
    if (isSilent && fromMs < atMs + staleMs && isBeyond(series.value[i] as number)) return true;
  }
  return false;
}

/**
 * Whether every reading of the brood lies between the same two edges: however it wanders there, every rule about cold and
 * heat says of each what it said of the first.
 */
function keepsItsSide(
  broodC: Series | undefined,
  fromMs: number,
  toMs: number,
  { broodEdgesC }: RestLimits,
): boolean {
  if (!broodC) return true;
  const first = indexAt(broodC, fromMs + 1) - 1;
  const end = indexAt(broodC, toMs + 1);
  if (first < 0) return end === 0;
  const sideOf = (v: number): number => broodEdgesC.filter((edgeC) => v >= edgeC).length;
  const side = sideOf(broodC.value[first] as number);
  for (let i = first + 1; i < end; i++) if (sideOf(broodC.value[i] as number) !== side) return false;
  return true;
}

/** Whether a cage was so far from its limits that nothing about cold or heat is found at any reading. */
function isFarFrom(cageC: Series | undefined, fromMs: number, toMs: number, { nearK }: RestLimits): boolean {
  const { value } = between(cageC, fromMs, toMs + 1);
  return value.every((v) => v > queenColdC.value + nearK && v < queenHotC.value - nearK);
}

function staysWithin(
  series: Series | undefined,
  fromMs: number,
  toMs: number,
  scatter: Scatter,
  { nearK }: RestLimits,
): boolean {
  const first = latest(series, fromMs);
  const last = latest(series, toMs);
  // A sensor that has not begun, or that said nothing in the whole stretch, can't have moved.
  if (!series || !last || first?.atMs === last.atMs) return true;
  if (!first) return false;
  const low = Math.min(first.value, last.value);
  const high = Math.max(first.value, last.value);
  if (high - low > scatter.apart) return false;
  const { value } = between(series, first.atMs, toMs + 1);
  return value.every((v) => {
    const strays = Math.max(low - v, v - high);
    return strays <= 0 || (strays <= scatter.by && scatter.limits.every((at) => Math.abs(v - at) > nearK));
  });
}

/** The first reading of any sensor after an instant, ms; infinity where none came. */
export const nextReadingMs = (series: NucSeries, nowMs: number): number =>
  Math.min(...Object.values(series).map((one: Series) => one.atMs[indexAt(one, nowMs + 1)] ?? Infinity));
