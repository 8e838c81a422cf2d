/** Everything that the readings of one nuc say at one instant. */
import { foragersLeaveDays } from '../biology/figures.ts';
import { fingerprint, keyOf, memoize, type AnalysisCache } from './analysis-cache.ts';
import { binMs, joinSeries, seriesUntil } from './bins.ts';
import { broodTemperature, silentWhy } from './brood/brood-temperature.ts';
import { thermalDoses } from './chill/chill.ts';
import { cleanTemperature, marginMs } from './day.ts';
import type { NucDay } from './kept-day.ts';
import { couplingUpTo } from './brood/coupling.ts';
import { dateAt } from './days.ts';
import { forageDriftOf, type DriftAndScale } from './drift/forager-drift.ts';
import type { AnalysisInput } from './input.ts';
import { chillOutlook, nightOutlook, silentOutlook, type OutlookInput } from './chill/outlook.ts';
import { beesAtMost, population } from './drift/population.ts';
import { probeJumps } from './brood/probe-jumps.ts';
import { placeUnknown, probeNotNest, probePlace } from './brood/probe-place.ts';
import {
  dayLosses,
  departuresByDay,
  driftDays,
  driftInput,
  nextNight,
  readDays,
  upTo,
  type ReadDays,
} from './read-days.ts';
import { colonyFailing, regulation } from './brood/regulation.ts';
import { covered } from './weight/night-weight.ts';
import { robbing } from './weight/robbing.ts';
import { between, hourMs } from './series.ts';
import { freshNightMs, nightsWithoutSteps, stores, storesNights, type Stores } from './weight/stores.ts';
import type {
  BroodRegime,
  Estimate,
  ForagerDrift,
  MassDeparture,
  NightWeight,
  NucSignals,
  ProbePlace,
  Series,
  WeightStep,
} from './types.ts';

export type { AnalysisInput } from './input.ts';
export { newAnalysisCache, type AnalysisCache } from './analysis-cache.ts';

/**
 * Reads a nuc's series up to `nowMs`. With a `cache` from an earlier call only the days whose readings changed are
 * read again; the order in which readings arrived makes no difference. Declines, with a reason, whatever the
 * readings do not bear.
 */
export function analyseNuc(input: AnalysisInput, nowMs: number, cache?: AnalysisCache): NucSignals {
  const read = readAll(input, nowMs, cache);
  const nightWeights = read.nights.flatMap(({ night }) => night ?? []);
  const steps = joined(read.days, (day) => day.steps);
  const { drift, scaleTemperature } = driftOf(read, cache);
  const departures = departuresByDay(input, read.days, drift.bees, cache);
  const { daysLeft, storesG, consumptionGPerDay } = storesOf(read, nightWeights, steps, drift);
  const massDepartures = joined(departures, (ofDay) => ofDay);
  const nest = broodSignals(read, massDepartures, cache);
  return {
    nowMs,
    nightWeights,
    // What is told as bees that left is not told as a hand too.
    steps: steps.filter(({ atMs }) => !massDepartures.some((d) => d.likeAHand && d.fromMs === atMs)),
    drift,
    daily: read.nights.map(({ daily }) => daily),
    stores: daysLeft,
    storesG,
    consumptionGPerDay,
    massDepartures,
    robbing: robbing(dayLosses(read, departures, nowMs, cache), read.localDays.at(-1)?.date as string),
    ...nest,
    outlook: outlook(read, nest.probePlace, cache),
    scaleTemperature,
    population: population(input, drift.bees),
  };
}

/** What all signals are read from. */
interface Read extends ReadDays {
  readonly nowMs: number;
  readonly input: AnalysisInput;
  /** The input without what comes after `nowMs`. */
  readonly seen: AnalysisInput;
  readonly recent: ReturnType<typeof recentDays>;
  /** The brood probe's last days, cleaned, and why it counts as silent, if it does. */
  readonly broodC: Series | undefined;
  readonly silent: ReturnType<typeof silentWhy>;
}

function readAll(input: AnalysisInput, nowMs: number, cache: AnalysisCache | undefined): Read {
  const seen = upTo(input, nowMs);
  const read = readDays(seen, nowMs, cache);
  const broodC = lastDays(input.series.broodC, nowMs);
  const silent = silentWhy(broodC, nowMs);
  return { ...read, nowMs, input, seen, recent: recentDays(read.days, nowMs), broodC, silent };
}

/** As of the last full hour; once the days that it is read from are over it stays as it is, until one of them is read anew. */
function driftOf({ seen, days, nowMs }: Read, cache: AnalysisCache | undefined): DriftAndScale {
  const hourAtMs = Math.max(Math.floor(nowMs / hourMs) * hourMs, Math.min(nowMs, seen.movedAtMs ?? nowMs));
  const kept = driftDays(seen, days, hourAtMs);
  const last = kept.at(-1);
  const read = last && last.day.toMs > hourAtMs ? readUntil(kept, hourAtMs, driftParts) : kept;
  const { rainMm, settledG } = seen.series;
  const toMs = Math.min(hourAtMs, last?.day.toMs ?? hourAtMs);
  const rain = last && fingerprint(between(rainMm, last.day.fromMs, toMs));
  const settled = settledG && last && fingerprint(between(settledG, kept[0]?.day.fromMs ?? 0, toMs));
  const events = keyOf(seen.events.filter(({ atMs }) => atMs <= hourAtMs));
  return memoize(
    cache,
    'drift-as-of',
    [seen.movedAtMs, seen.framesOfBees, events, rain, settled, ...read],
    () => forageDriftOf(driftInput(seen, days, hourAtMs), cache),
  );
}

/** Tells apart what was read of days up to an instant: by the day itself once nothing new can belong to it. */
const readUntil = (
  days: readonly NucDay[],
  untilMs: number,
  parts: (day: NucDay, untilMs: number) => readonly string[],
): readonly unknown[] => [
  untilMs,
  ...days.flatMap((day): readonly unknown[] =>
    day.day.toMs + marginMs <= untilMs ? [day] : parts(day, untilMs),
  ),
];

function driftParts({ weight, outside, flight, steps }: NucDay, untilMs: number): readonly string[] {
  // The bin that begins with the instant is partly guessed from what comes before it.
  const flown = Math.max(0, Math.round((untilMs - flight.fromMs) / binMs) + 1);
  return [
    ...[weight, outside].map((bins) => fingerprint(seriesUntil(bins, untilMs))),
    ...[flight.activity, Float64Array.from(flight.guessed)].map((all) =>
      fingerprint({ atMs: new Float64Array(0), value: all.subarray(0, flown) }),
    ),
    JSON.stringify(steps.filter(({ atMs }) => atMs <= untilMs)),
  ];
}

function storesOf(
  { input, nowMs, days }: Read,
  nightWeights: readonly NightWeight[],
  steps: readonly WeightStep[],
  drift: ForagerDrift,
): Stores {
  const driftOverMs =
    drift.state === 'gone' || drift.state === 'nearly-gone' || drift.state === 'cannot-tell'
      ? (input.movedAtMs ?? -Infinity) + foragersLeaveDays.value * 24 * hourMs
      : Infinity;
  const newest = nightWeights.at(-1);
  return stores({
    nights: nightsWithoutSteps(
      nightWeights.slice(-storesNights).filter((night) => night.toMs > Math.min(driftOverMs, nowMs)),
      steps,
    ),
    grossG: newest?.levelG ?? null,
    tooSeldom: tellsTooSeldom(days),
    ...(newest && nowMs - newest.toMs > freshNightMs ? { silentSinceMs: newest.toMs } : {}),
    ...(input.emptyBoxG === undefined ? {} : { tareG: input.emptyBoxG }),
  });
}

/** Method: bins of a day that tell a scale's interval. */
const enoughBins = 6;

function tellsTooSeldom(days: readonly NucDay[]): boolean {
  for (const day of days.toReversed()) {
    const { weight } = day;
    if (weight.atMs.length >= enoughBins) return covered(weight).tooSeldom;
  }
  return false;
}

type BroodPart = 'brood' | 'broodDays' | 'doses' | 'regulation' | 'failing' | 'probeJumps' | 'probePlace';

function broodSignals(
  { input, localDays, days, recent, broodC, silent, nowMs }: Read,
  departures: readonly MassDeparture[],
  cache: AnalysisCache | undefined,
): Pick<NucSignals, BroodPart> {
  const { timeZone } = input.place;
  const regimeOn = (date: string): BroodRegime => {
    const day = localDays.findLast((one) => one.date === date);
    return input.broodRegime(day ? (day.fromMs + day.toMs) / 2 : nowMs);
  };
  const regime = input.broodRegime(nowMs);
  const broodDays = days.map((day) => day.broodDay).filter((day) => day !== null);
  const today = localDays.at(-1)?.date as string;
  const { releasedAtMs } = input;
  const releasedOn =
    releasedAtMs === undefined
      ? null
      : memoize(cache, 'released-on', [releasedAtMs], () => dateAt(timeZone, releasedAtMs));
  const probeMoves = probeJumps(recent.brood, input.events).sort((one, other) => one.atMs - other.atMs);
  const bees = beesAtMost(input);
  const place =
    silent === null
      ? probePlace({
          ...{ brood: recent.brood, outside: recent.outside, events: input.events, nowMs },
          ...(bees === undefined ? {} : { bees }),
          ...(input.series.cageC ? { cageC: input.series.cageC } : {}),
        })
      : placeUnknown(silent);
  const movedMs = Math.max(probeMoves.at(-1)?.atMs ?? -Infinity, place.readSinceMs ?? -Infinity);
  return {
    brood: broodTemperature(regime, broodC, recent.brood, nowMs, couplingLater(recent.days, nowMs, cache)),
    broodDays,
    doses: doses(input, regime, broodC, movedMs, nowMs),
    regulation: regulation(broodDays, releasedOn, today, regimeOn),
    failing:
      silent === null
        ? colonyFailing(
            broodDays,
            today,
            regimeOn,
            probeMoves.map((jump) => ({ ...jump, date: dateAt(timeZone, jump.atMs) })),
            probeNotNest(place, departures),
          )
        : {
            state: 'cannot-tell',
            since: null,
            why: 'no recent brood temperature: a silent sensor says nothing about the colony',
          },
    probeJumps: probeMoves,
    probePlace: place,
  };
}

/** Method: more nights than the night ahead is told from. */
const nightsAsked = 14;

/** The lists of all days as one: most are empty, and nothing is made for those. */
function joined<D, T>(days: readonly D[], of: (day: D) => readonly T[]): T[] {
  const all: T[] = [];
  for (const day of days) for (const one of of(day)) all.push(one);
  return all;
}

/** The last twelve days as one run of bins. */
/** Method: days that the newest findings look at. */
const recentSpan = 12;

function recentDays(days: readonly NucDay[], nowMs: number) {
  const kept = days.filter((day) => day.day.toMs > nowMs - recentSpan * 24 * hourMs);
  return {
    days: kept,
    brood: joinSeries(kept.map((day) => day.brood)),
    outside: joinSeries(kept.map((day) => day.outside)),
  };
}

/** Apart from what calls it, so that it holds on to nothing but the days, which are kept anyhow. */
function couplingLater(
  days: readonly NucDay[],
  nowMs: number,
  cache: AnalysisCache | undefined,
): () => Estimate {
  return () => {
    const brood = joinSeries(days.map((day) => day.brood));
    return couplingUpTo(brood, joinSeries(days.map((day) => day.outside)), nowMs, cache);
  };
}

/** Method: hours of raw readings that are cleaned for the newest values. */
const newestHours = 48;
const lastDays = (series: Series | undefined, nowMs: number): Series | undefined =>
  series && cleanTemperature(between(series, nowMs - newestHours * hourMs, nowMs + 1));

function doses(
  input: AnalysisInput,
  regime: BroodRegime,
  broodC: Series | undefined,
  probeMovedMs: number,
  nowMs: number,
): NucSignals['doses'] {
  const { fromMs = Infinity, toMs = Infinity } = input.queenInCage ?? {};
  const queenInCage = fromMs <= nowMs && nowMs < toMs;
  const cageC = queenInCage ? lastDays(input.series.cageC, nowMs) : undefined;
  return thermalDoses({
    regime,
    nowMs,
    events: input.events,
    queenInCage,
    probeMovedMs,
    ...(broodC ? { broodC } : {}),
    ...(cageC ? { cageC } : {}),
  });
}

/** The night ahead as of the last full hour: it changes slowly, and is worked out once an hour. */
function outlook(
  all: Read,
  { readSinceMs }: ProbePlace,
  cache: AnalysisCache | undefined,
): NucSignals['outlook'] {
  const { input, recent, silent, nowMs } = all;
  const since = readSinceMs === null ? {} : { readSinceMs };
  const now = outlookInput(all, nowMs, recent.brood, recent.outside, cache);
  if (silent !== null) return silentOutlook(silent, now.nightAhead.toMs);
  const hourAtMs = fullHour(nowMs, recent.brood);
  const [brood, outside] = [recent.brood, recent.outside].map((bins) => seriesUntil(bins, hourAtMs)) as [
    Series,
    Series,
  ];
  const read = readUntil(recent.days, hourAtMs, nestParts);
  const from = [keyOf(input.events), now.bees, JSON.stringify(input.forecast), readSinceMs, ...read];
  const night = memoize(cache, 'night-outlook', from, () =>
    nightOutlook({ ...outlookInput(all, hourAtMs, brood, outside, cache), ...since }),
  );
  return chillOutlook(now, night);
}

const nestParts = ({ brood, outside }: NucDay, untilMs: number): readonly string[] =>
  [brood, outside].map((bins) => fingerprint(seriesUntil(bins, untilMs)));

function outlookInput(
  read: Read,
  nowMs: number,
  brood: Series,
  outside: Series,
  cache: AnalysisCache | undefined,
): OutlookInput {
  const { input } = read;
  const spans = read.spans.slice(-nightsAsked);
  const bees = beesAtMost(input);
  return {
    ...{ nowMs, brood, outside, events: input.events, days: read.recent.days },
    nights: spans.filter((span) => span.toMs <= nowMs),
    nightAhead: spans.find((span) => span.toMs > nowMs) ?? nextNight(read, input.place, cache),
    ...(bees === undefined ? {} : { bees }),
    ...(input.forecast ? { forecast: input.forecast } : {}),
    ...(cache ? { cache } : {}),
  };
}

/** The last full hour; the instant itself where nothing was read before that hour. */
function fullHour(nowMs: number, bins: Series): number {
  const hourAtMs = Math.floor(nowMs / hourMs) * hourMs;
  return (bins.atMs[0] ?? Infinity) < hourAtMs ? hourAtMs : nowMs;
}
