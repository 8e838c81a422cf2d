/** Chilling ahead: the lowest brood temperature of the night to come, and the time left at the present fall. */
import {
  forecastErrorK,
  nightDropErrorK,
  nightDropK,
  nightDropOwnErrorK,
  nightDropHours,
} from '../../biology/weather-figures.ts';
import {
  boxLagHours,
  gaveWayK,
  lowestErrorK,
  visitInNightHours,
  nestLevelMarginK,
} from '../../biology/nest-figures.ts';
import { ends90, level90 } from '../statistics/intervals.ts';
import { degC, say, type Sentence } from '../../words/phrase.ts';
import { counted } from '../../words/sentence.ts';
import { highEnd, lowEnd } from '../../biology/figure.ts';
import { broodNestC, sealedBroodColdC } from '../../biology/thermal-figures.ts';
import { fingerprint, memoize, type AnalysisCache } from '../analysis-cache.ts';
import { binMs, lagged, valueAt } from '../bins.ts';
import { minutesToLimit, readsSeldom } from './cooling.ts';
import { fallsOf } from './falls.ts';
import type { LocalDay } from '../days.ts';
import { marginPrior, withNights, type Margin, type MarginNight } from './heat-margin.ts';
import { lastJumpMs } from '../brood/probe-jumps.ts';
import { between, hourMs } from '../series.ts';
import { mixtureBelow, mixtureQuantile, normalBelow, type Component } from '../statistics/mixture.ts';
import { noWarmerThan, withoutParts, type NightOutlook } from './night-so-far.ts';
import { nightLevel, type NightLevel, type SunkNight } from './night-level.ts';
import { median } from '../statistics/robust.ts';
import type { ChillOutlook, Estimate, Forecast, KnownEvent, ProbePlace, Series } from '../types.ts';

export interface NightSpan {
  readonly date: string;
  readonly fromMs: number;
  readonly toMs: number;
}

export interface OutlookInput {
  readonly nowMs: number;
  readonly brood: Series;
  readonly outside: Series;
  /** Dark hours of the nights past, oldest first, and of the one that is under way or comes next. */
  readonly nights: readonly NightSpan[];
  readonly nightAhead: NightSpan;
  readonly bees?: number;
  readonly forecast?: Forecast;
  readonly events: readonly KnownEvent[];
  readonly limitC?: number;
  /** While the probe may have lain elsewhere; it has read the nest since. */
  readonly doubts?: ProbePlace['doubts'];
  /** Nights whose readings are known are not read again: with the days that the bins were read from. */
  readonly cache?: AnalysisCache;
  readonly days?: readonly { readonly day: LocalDay }[];
}

const boxLagMs = boxLagHours.value * hourMs;
/** By then a lag has forgotten where it began. */
const lagSettlesMs = 24 * hourMs;
/** Method: nights of its own that are looked at. */
const nightsKept = 10;
/** Method: from so many nights on they are its record. */
const nightsForOwnRecord = 3;
/** Method: nights whose drops are looked at. */
const dropNights = 7;
/** Method: readings without which a night says nothing. */
const leastReadings = 4;
/** Method: the spread of few nights is stretched by this. */
const fewNights = 1.5;
/** Method: an outside reading this old is old. */
const oldHours = 3;
/** Method: weights under this change nothing. */
const negligible = 1e-6;
/** Method: hours that tell the nest’s usual level. */
const levelHours = 72;
/** Method: warm readings without which they don’t tell it. */
const leastWarm = 12;
const visitMs = visitInNightHours.value * hourMs;

/** `night`: what was worked out of it before. */
export function chillOutlook(input: OutlookInput, night = nightOutlook(input)): ChillOutlook {
  const limitC = input.limitC ?? sealedBroodColdC.value;
  const latestC = input.brood.value.at(-1);
  return {
    limitC,
    minutesToLimit: fallOfTheHour(input, limitC),
    readsSeldom: readsSeldom(input.brood, input.nowMs),
    ...(latestC === undefined
      ? withoutParts(night)
      : noWarmerThan(latestC, limitC, night, input.nowMs >= input.nightAhead.fromMs)),
  };
}

/** Nothing is foreseen of a probe that is silent, or may lie elsewhere. */
export const silentOutlook = (why: Sentence, { fromMs, toMs }: NightSpan): ChillOutlook => ({
  limitC: sealedBroodColdC.value,
  nightBeginsMs: fromMs,
  nightEndsMs: toMs,
  chanceBelow: null,
  chanceOfUsual: null,
  basis: 'none',
  forecast: 'none',
  minutesToLimit: { ok: false, why },
  tonightMinC: { ok: false, why },
});

function fallOfTheHour({ brood, outside, nowMs }: OutlookInput, limitC: number): Estimate {
  if (brood.atMs.length === 0) return noBrood;
  const outsideNow = valueAt(outside, nowMs - binMs, oldHours * hourMs);
  return minutesToLimit(brood, Number.isNaN(outsideNow) ? null : outsideNow, limitC, nowMs);
}

export function nightOutlook(input: OutlookInput): NightOutlook {
  const limitC = input.limitC ?? sealedBroodColdC.value;
  const cold = coldestAhead(input);
  const ofNight = { nightBeginsMs: input.nightAhead.fromMs, nightEndsMs: input.nightAhead.toMs };
  const none = { chanceBelow: null, chanceOfUsual: null } as const;
  const unknown = { forecast: cold.kind, ...none, basis: 'none', ...ofNight, parts: [] } as const;
  if (input.brood.atMs.length === 0) return { tonightMinC: noBrood, ...unknown };
  const falls = fallsOf(between(input.brood, movedMs(input), input.nowMs + 1), input.events, input.nowMs);
  if (!cold.ok) return { tonightMinC: { ok: false, why: cold.why }, falls, ...unknown };
  const level = usualLevel(input);
  const nights = marginNights(input, level);
  const own = nights.filter((night) => night.ageDays > 0).length >= nightsForOwnRecord;
  const parts = lowest(marginOf(input, nights), cold, nightLevel(level, nights));
  if (!own && input.bees === undefined) {
    const why = 'fewer than three nights of its own and the strength of the nuc is not known';
    const chanceOfUsual = mixtureBelow(parts, limitC);
    return { tonightMinC: { ok: false, why }, ...unknown, chanceOfUsual };
  }
  const restsOn = [
    own
      ? `${String(nights.length)} nights of brood against outside temperature`
      : 'a heat budget from the number of bees',
    cold.words,
  ];
  return {
    forecast: cold.kind,
    falls,
    tonightMinC: estimateOf(parts, restsOn),
    chanceBelow: mixtureBelow(parts, limitC),
    chanceOfUsual: null,
    basis: own ? 'own-record' : 'heat-budget',
    ...ofNight,
    parts,
  };
}

const noBrood: Estimate = { ok: false, why: 'no sensor reports the brood temperature' };

/** The night's lowest brood: for each margin outside + margin where that is under the level of its nights, and else that level. */
function lowest(
  { gridK, weight }: Margin,
  { minC, sdC }: { minC: number; sdC: number },
  { meanC: levelC, sdK }: NightLevel,
): Component[] {
  const parts: Component[] = [];
  let atLevel = 0;
  for (let i = 0; i < gridK.length; i++) {
    const share = weight[i] as number;
    if (share < negligible) continue;
    const free = minC + (gridK[i] as number);
    // Chance that even the night's cold leaves the nest at its level.
    const holds = 1 - normalBelow((levelC - free) / sdC);
    atLevel += share * holds;
    const sd = Math.max(lowestErrorK.value, sdC * (1 - 0.5 * holds));
    parts.push({ weight: share * (1 - holds), mean: Math.min(free, levelC), sd });
  }
  return [{ weight: atLevel, mean: levelC, sd: sdK }, ...parts];
}

/** The heat budget's margin as the nights leave it; what the nights past say is kept until one is added or grows older. */
function marginOf({ bees, cache }: OutlookInput, nights: readonly MarginNight[]): Margin {
  const past = nights.filter((night) => night.ageDays > 0);
  const running = nights.filter((night) => night.ageDays === 0);
  const told = past.flatMap(({ ageDays, heldK, gaveWay }) => [ageDays, heldK, gaveWay]);
  const margin = memoize(cache, 'margin', [bees, ...told], () => withNights(marginPrior(bees), past));
  return running.length === 0 ? margin : withNights(margin, running);
}

function estimateOf(parts: readonly Component[], restsOn: readonly Sentence[]): Estimate {
  const [low, value, high] = [ends90.low, ends90.middle, ends90.high].map((p) =>
    mixtureQuantile(parts, p),
  ) as [number, number, number];
  return { ok: true, value, low, high, level: level90, restsOn };
}

/** Level that the nest keeps when it is warm enough: middle of its warm readings of the last three days, else that of any nest. */
function usualLevel(input: OutlookInput): number {
  const values = between(input.brood, input.nowMs - levelHours * hourMs, input.nowMs + 1).value;
  const warm = values.filter(
    (v) =>
      v >= lowEnd(broodNestC) - nestLevelMarginK.value && v <= highEnd(broodNestC) + nestLevelMarginK.value,
  );
  return warm.length >= leastWarm ? median(warm) : broodNestC.value;
}

/** What was read before a visit at which the probe came to lie elsewhere, or while its place was in doubt, is of another place. */
const movedMs = ({ brood, events, nowMs, doubts = [] }: OutlookInput): number =>
  Math.max(lastJumpMs(brood, events, nowMs), ...doubts.map(({ toMs }) => toMs));

function marginNights(input: OutlookInput, levelC: number): (MarginNight & SunkNight)[] {
  const { brood, events, nowMs, doubts = [] } = input;
  const sinceMs = lastJumpMs(brood, events, nowMs);
  const isDoubted = (span: NightSpan): boolean =>
    doubts.some(({ fromMs, toMs }) => fromMs < span.toMs && toMs > span.fromMs);
  const spans = input.nights.slice(-nightsKept).filter((span) => span.fromMs > sinceMs && !isDoubted(span));
  const running = {
    ...input.nightAhead,
    fromMs: Math.max(input.nightAhead.fromMs, movedMs(input)),
    toMs: input.nowMs,
  };
  if (running.toMs > running.fromMs + hourMs) spans.push(running);
  return spans.flatMap((span) => {
    if (input.events.some((e) => e.atMs > span.fromMs - visitMs && e.atMs < span.toMs)) return [];
    const held = heldOver(input, span);
    if (!held) return [];
    const gaveWay = held.lowestC < levelC - gaveWayK.value;
    return [
      {
        ageDays: Math.ceil((input.nowMs - span.toMs) / (24 * hourMs)),
        heldK: gaveWay ? held.atLowestK : held.heldK,
        gaveWay,
        lowestC: held.lowestC,
      },
    ];
  });
}

/** What a night's brood held above the outside, K. */
interface Held {
  readonly heldK: number;
  readonly lowestC: number;
  readonly atLowestK: number;
}

/** Null where too little of the night was read. */
function heldOver({ brood, outside, cache, days }: OutlookInput, span: NightSpan): Held | null {
  const { date, fromMs, toMs } = span;
  const inside = between(brood, fromMs, toMs);
  const around = between(outside, fromMs - lagSettlesMs, toMs + hourMs);
  const read = days?.filter(({ day }) => day.toMs > fromMs - lagSettlesMs && day.fromMs < toMs + hourMs);
  // The newest day is read anew with each reading, be it long after the night.
  const over = read && read.at(-1) !== days?.at(-1);
  const from = over ? read : [fingerprint(inside), fingerprint(around)];
  return memoize(cache, `held ${date}`, [fromMs, toMs, ...from], () => {
    const follow = lagged(around, boxLagMs);
    let heldK = -Infinity;
    let lowestC = Infinity;
    let atLowestK = NaN;
    let n = 0;
    for (let i = 0; i < inside.atMs.length; i++) {
      const out = valueAt(follow, inside.atMs[i] as number, hourMs);
      if (Number.isNaN(out)) continue;
      const broodC = inside.value[i] as number;
      n += 1;
      heldK = Math.max(heldK, broodC - out);
      if (broodC < lowestC) {
        lowestC = broodC;
        atLowestK = broodC - out;
      }
    }
    return n < leastReadings ? null : { heldK, lowestC, atLowestK };
  });
}

type Cold =
  | { ok: true; minC: number; sdC: number; kind: ChillOutlook['forecast']; words: Sentence }
  | { ok: false; why: Sentence; kind: ChillOutlook['forecast'] };

/** Coldest lagged outside of the night ahead: told, or the evening's temperature less what nights usually lose from this hour on. */
function coldestAhead(input: OutlookInput): Cold {
  const { forecast, nightAhead, nowMs, outside } = input;
  if (forecast && forecast.byMs > nowMs && Number.isFinite(forecast.minC)) {
    const words = say`the forecast of ${forecast.source}: ${degC(forecast.minC)}`;
    return { ok: true, minC: forecast.minC, sdC: forecastErrorK.value, kind: 'told', words };
  }
  const nowC = valueAt(outside, nowMs - binMs, 2 * hourMs);
  if (Number.isNaN(nowC)) return { ok: false, why: 'no outside temperature and no forecast', kind: 'none' };
  const toDawnMs = Math.max(0, nightAhead.toMs - nowMs);
  const drops = input.nights.slice(-dropNights).flatMap((night) => {
    const then = valueAt(outside, night.toMs - toDawnMs, hourMs);
    const dark = between(outside, night.toMs - toDawnMs, night.toMs + hourMs / 2).value;
    return Number.isNaN(then) || dark.length < leastReadings ? [] : [then - Math.min(...dark)];
  });
  const dark = Math.min(1, toDawnMs / (nightDropHours.value * hourMs));
  if (drops.length === 0) {
    return {
      ok: true,
      minC: nowC - nightDropK.value * dark,
      sdC: 1 + nightDropErrorK.value * dark,
      kind: 'persistence',
      words: 'the present outside temperature and a usual night',
    };
  }
  const usual = median(drops);
  const spread = drops.length > 2 ? median(drops.map((d) => Math.abs(d - usual))) : 2;
  return {
    ok: true,
    minC: nowC - usual,
    sdC: 0.5 + Math.max(fewNights * spread, nightDropOwnErrorK.value * dark),
    kind: 'persistence',
    words: `the present outside temperature and ${counted(drops.length, 'night')} before it, without a forecast`,
  };
}
