/** Everything that the readings of one nuc say at one instant. */
import { keyOf, remember, type AnalysisCache } from './analysis-cache.ts';
import { joinBins } from './bins.ts';
import { broodTemperature } from './brood/brood-temperature.ts';
import { thermalDoses } from './chill/chill.ts';
import { cleanTemperature, type NucDay } from './day.ts';
import { couplingUpTo } from './brood/coupling.ts';
import { dateAt } from './days.ts';
import { forageDriftOf, type DriftAndScale } from './drift/forager-drift.ts';
import type { AnalysisInput } from './input.ts';
import { chillOutlook } from './chill/outlook.ts';
import { beesAtMost, population } from './drift/population.ts';
import { probeJumps } from './brood/probe-jumps.ts';
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
import { robbing } from './weight/robbing.ts';
import { between, hourMs } from './series.ts';
import { nightsWithoutSteps, stores, storesNights, type Stores } from './weight/stores.ts';
import type {
  BroodRegime,
  Estimate,
  ForagerDrift,
  NightWeight,
  NucSignals,
  Series,
  WeightStep,
} from './types.ts';
import { once, whenAsked } from './when-asked.ts';

export type { AnalysisInput } from './input.ts';
export { newAnalysisCache, type AnalysisCache } from './analysis-cache.ts';

/**
 * Reads a nuc's series up to `nowMs`. With a `cache` from an earlier call only the days whose readings changed are
 * read again; the order in which readings arrived makes no difference. Declines, with a reason, whatever the
 * readings do not bear.
 */
export function analyseNuc(input: AnalysisInput, nowMs: number, cache?: AnalysisCache): NucSignals {
  const signals = { ...analyseWhenAsked(() => input, nowMs, cache) };
  // Else it would hold on to the bins that it is read from.
  void signals.outlook.chanceBelow;
  return signals;
}

/**
 * The same, but each signal is worked out when it is first read, and `input` asked for with the first of them: for who may
 * need few of them. It holds on to the readings.
 */
export function analyseWhenAsked(
  input: () => AnalysisInput,
  nowMs: number,
  cache?: AnalysisCache,
): NucSignals {
  const read = once(() => readAll(input(), nowMs, cache));
  const drifting = once(() => driftOf(read(), cache));
  const departures = once(() => departuresByDay(read().input, read().days, drifting().drift.bees, cache));
  const weighed = once(() => storesOf(read(), signals.nightWeights, signals.steps, signals.drift));
  const nest = once(() => broodSignals(read(), cache));
  const signals: NucSignals = whenAsked<NucSignals>({
    nowMs: () => nowMs,
    nightWeights: () =>
      read()
        .nights()
        .flatMap(({ night }) => night ?? []),
    steps: () => joined(read().days, (day) => day.steps),
    drift: () => drifting().drift,
    daily: () =>
      read()
        .nights()
        .map(({ daily }) => daily),
    stores: () => weighed().daysLeft,
    storesG: () => weighed().storesG,
    consumptionGPerDay: () => weighed().consumptionGPerDay,
    massDepartures: () => joined(departures(), (ofDay) => ofDay),
    robbing: () => robbing(dayLosses(read(), departures(), nowMs, cache)),
    brood: () => nest().brood,
    broodDays: () => nest().broodDays,
    doses: () => nest().doses,
    outlook: () => outlook(read(), cache),
    regulation: () => nest().regulation,
    failing: () => nest().failing,
    probeJumps: () => nest().probeJumps,
    scaleTemperature: () => drifting().scaleTemperature,
    population: () => population(read().input, drifting().drift.bees),
  });
  return signals;
}

/** What all signals are read from. */
interface Read extends ReadDays {
  readonly nowMs: number;
  readonly input: AnalysisInput;
  /** The input without what comes after `nowMs`. */
  readonly seen: AnalysisInput;
  readonly recent: ReturnType<typeof recentDays>;
}

function readAll(input: AnalysisInput, nowMs: number, cache: AnalysisCache | undefined): Read {
  const seen = upTo(input, nowMs);
  const read = readDays(seen, nowMs, cache);
  return { ...read, nowMs, input, seen, recent: recentDays(read.days, nowMs) };
}

/** Once the days that it is read from are over it stays as it is, until one of them is read anew. */
function driftOf({ seen, days, nowMs }: Read, cache: AnalysisCache | undefined): DriftAndScale {
  const read = (): DriftAndScale => forageDriftOf(driftInput(seen, days, nowMs), cache);
  const kept = driftDays(seen, days, nowMs);
  const last = kept.at(-1);
  if (seen.movedAtMs === undefined || !last || last.day.toMs > nowMs) return read();
  return remember(
    cache,
    'drift-over',
    [seen.movedAtMs, seen.framesOfBees, keyOf(seen.events), ...kept],
    read,
  );
}

function storesOf(
  { input, nowMs }: Read,
  nightWeights: readonly NightWeight[],
  steps: readonly WeightStep[],
  drift: ForagerDrift,
): Stores {
  const driftOverMs =
    drift.state === 'gone' || drift.state === 'nearly-gone' || drift.state === 'cannot-tell'
      ? (input.movedAtMs ?? -Infinity) + 72 * hourMs
      : Infinity;
  return stores({
    nights: nightsWithoutSteps(
      nightWeights.slice(-storesNights).filter((night) => night.toMs > Math.min(driftOverMs, nowMs)),
      steps,
    ),
    grossG: nightWeights.at(-1)?.levelG ?? null,
    ...(input.emptyBoxG === undefined ? {} : { tareG: input.emptyBoxG }),
    ...(input.beesNow === undefined ? {} : { bees: input.beesNow }),
  });
}

type BroodPart = 'brood' | 'broodDays' | 'doses' | 'regulation' | 'failing' | 'probeJumps';

function broodSignals(
  { input, localDays, days, recent, nowMs }: Read,
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
      : remember(cache, 'released-on', [releasedAtMs], () => dateAt(timeZone, releasedAtMs));
  const probeMoves = probeJumps(recent.brood, input.events).sort((one, other) => one.atMs - other.atMs);
  const broodC = lastDays(input.series.broodC, nowMs);
  return {
    brood: broodTemperature(regime, broodC, recent.brood, nowMs, couplingLater(recent.days, nowMs, cache)),
    broodDays,
    doses: doses(input, regime, broodC, probeMoves.at(-1)?.atMs, nowMs),
    regulation: regulation(broodDays, releasedOn, today, regimeOn),
    failing: colonyFailing(
      broodDays,
      today,
      regimeOn,
      probeMoves.map((jump) => ({ ...jump, date: dateAt(timeZone, jump.atMs) })),
    ),
    probeJumps: probeMoves,
  };
}

/** More nights than the night ahead is told from. */
const nightsAsked = 14;

/** The lists of all days as one: most are empty, and nothing is made for those. */
function joined<D, T>(days: readonly D[], of: (day: D) => readonly T[]): T[] {
  const all: T[] = [];
  for (const day of days) for (const one of of(day)) all.push(one);
  return all;
}

/** The last twelve days as one run of bins. */
function recentDays(days: readonly NucDay[], nowMs: number) {
  const kept = days.filter((day) => day.day.toMs > nowMs - 12 * 24 * hourMs);
  return {
    days: kept,
    brood: joinBins(kept.map((day) => day.brood)),
    outside: joinBins(kept.map((day) => day.outside)),
  };
}

/** Apart from what calls it, so that it holds on to nothing but the days, which are kept anyhow. */
function couplingLater(
  days: readonly NucDay[],
  nowMs: number,
  cache: AnalysisCache | undefined,
): () => Estimate {
  return () => {
    const brood = joinBins(days.map((day) => day.brood));
    return couplingUpTo(brood, joinBins(days.map((day) => day.outside)), nowMs, cache);
  };
}

const lastDays = (series: Series | undefined, nowMs: number): Series | undefined =>
  series && cleanTemperature(between(series, nowMs - 48 * hourMs, nowMs + 1));

function doses(
  input: AnalysisInput,
  regime: BroodRegime,
  broodC: Series | undefined,
  probeMovedMs: number | undefined,
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
    ...(probeMovedMs === undefined ? {} : { probeMovedMs }),
    ...(broodC ? { broodC } : {}),
    ...(cageC ? { cageC } : {}),
  });
}

function outlook(read: Read, cache: AnalysisCache | undefined): NucSignals['outlook'] {
  const { input, recent, nowMs } = read;
  const spans = read.spans.slice(-nightsAsked);
  const bees = beesAtMost(input);
  return chillOutlook({
    nowMs,
    brood: recent.brood,
    outside: recent.outside,
    nights: spans.filter((span) => span.toMs <= nowMs),
    nightAhead: spans.find((span) => span.toMs > nowMs) ?? nextNight(read, input.place, cache),
    events: input.events,
    days: recent.days,
    ...(bees === undefined ? {} : { bees }),
    ...(input.forecast ? { forecast: input.forecast } : {}),
    ...(cache ? { cache } : {}),
  });
}
