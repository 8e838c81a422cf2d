/** Everything that the readings of one nuc say at one instant. */
import { foragersLeaveDays } from '../biology/figures.ts';
import { memoize, type AnalysisCache } from './analysis-cache.ts';
import { driftAsOfHour, outlookAsOfHour } from './as-of-hour.ts';
import { joinSeries } from './bins.ts';
import { broodTemperature } from './brood/brood-temperature.ts';
import { thermalDoses } from './chill/chill.ts';
import type { NucDay } from './kept-day.ts';
import { couplingUpTo } from './brood/coupling.ts';
import { dateAt } from './days.ts';
import { withoutThoseThatLeft } from './drift/forager-drift.ts';
import type { AnalysisInput } from './input.ts';
import { beesAtMost } from './drift/population.ts';
import { outsideNow } from './outside-now.ts';
import { probeJumps } from './brood/probe-jumps.ts';
import { placeUnknown, probeNotNest, probePlace } from './brood/probe-place.ts';
import { lastDays, readAll, type Read } from './read-all.ts';
import { beesOfBox, dayLosses, departuresByDay, type BeesOfBox } from './read-days.ts';
import { colonyFailing, regulation } from './brood/regulation.ts';
import { besideTheNest, boxAway } from './weight/box-away.ts';
import { isSure } from './weight/mass-departure.ts';
import { covered } from './weight/night-weight.ts';
import { robbing } from './weight/robbing.ts';
import { hourMs, latest } from './series.ts';
import { freshNightMs, nightsWithoutSteps, stores, storesNights, type Stores } from './weight/stores.ts';
import type {
  BroodRegime,
  Estimate,
  ForagerDrift,
  MassDeparture,
  NightWeight,
  NucSignals,
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
  const stepped = joined(read.days, (day) => day.steps);
  const steps = read.silent === null ? besideTheNest(stepped, read.seen.series.broodC) : stepped;
  const { drift: weighed, scaleTemperature } = driftAsOfHour(read, cache);
  const bees = beesOfBox(input, weighed.bees, cache);
  const departures = departuresByDay(read, bees, cache);
  const massDepartures = joined(departures, (ofDay) => ofDay);
  const drift = withoutThoseThatLeft(
    weighed,
    massDepartures.filter((one) => isSure(one, nowMs)),
  );
  const { daysLeft, storesG, consumptionGPerDay } = storesOf(read, nightWeights, steps, drift, bees);
  const nest = broodSignals(read, massDepartures, cache);
  const { outsideC, rainMm } = read.seen.series;
  return {
    nowMs,
    outsideNow: outsideNow(outsideC, rainMm, nowMs),
    nightWeights,
    // What is told as bees that left is not told as a hand too.
    steps: steps.filter(({ atMs }) => !massDepartures.some((d) => d.likeAHand && d.fromMs === atMs)),
    drift,
    daily: read.nights.map(({ daily }) => daily),
    stores: daysLeft,
    storesG,
    consumptionGPerDay,
    massDepartures,
    robbing: robbing(dayLosses(read, bees, departures, nowMs, cache), read.localDays.at(-1)?.date as string),
    ...nest,
    outlook: outlookAsOfHour(read, nest.probePlace, massDepartures, cache),
    scaleTemperature,
  };
}

function storesOf(
  { input, nowMs, days }: Read,
  nightWeights: readonly NightWeight[],
  steps: readonly WeightStep[],
  drift: ForagerDrift,
  bees: BeesOfBox,
): Stores {
  const driftOverMs = drift.stay
    ? -Infinity
    : drift.state === 'gone' || drift.state === 'nearly-gone' || drift.state === 'cannot-tell'
      ? (input.movedAtMs ?? -Infinity) + foragersLeaveDays.value * 24 * hourMs
      : Infinity;
  const newest = nightWeights.at(-1);
  const counted = newest && bees.at(newest.toMs);
  const away = boxAway(steps);
  const lately = nightWeights.slice(-storesNights);
  const settled = lately.filter((night) => night.toMs > Math.min(driftOverMs, nowMs));
  return stores({
    ...(away ? { boxAwaySinceMs: away.atMs } : {}),
    nights: nightsWithoutSteps(settled, steps),
    leavingNights: settled.length < lately.length,
    grossG: newest?.levelG ?? null,
    ...(counted ? { counted } : {}),
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
  const newest = latest(broodC, nowMs);
  const place =
    silent === null
      ? probePlace({
          brood: recent.brood,
          outside: recent.outside,
          events: input.events,
          nowMs,
          ...(bees === undefined ? {} : { bees }),
          ...(newest && { latestC: newest.value }),
          ...(input.series.cageC ? { cageC: input.series.cageC } : {}),
        })
      : placeUnknown(silent);
  const probeKnown = {
    notNest: probeNotNest(place, departures),
    putBackOn: place.putBackMs === null ? null : dateAt(timeZone, place.putBackMs),
  };
  const movedMs = Math.max(probeMoves.at(-1)?.atMs ?? -Infinity, place.doubts.at(-1)?.toMs ?? -Infinity);
  return {
    brood: broodTemperature(regime, broodC, recent.brood, nowMs, couplingLater(recent.days, nowMs, cache)),
    broodDays,
    doses: doses(input, regime, broodC, movedMs, nowMs),
    regulation: regulation(broodDays, releasedOn, today, regimeOn, probeKnown),
    failing:
      silent === null
        ? colonyFailing(
            broodDays,
            today,
            regimeOn,
            probeMoves.map((jump) => ({ date: dateAt(timeZone, jump.atMs), ...jump })),
            probeKnown,
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

/** The lists of all days as one: most are empty, and nothing is made for those. */
function joined<D, T>(days: readonly D[], of: (day: D) => readonly T[]): T[] {
  const all: T[] = [];
  for (const day of days) for (const one of of(day)) all.push(one);
  return all;
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

function doses(
  input: AnalysisInput,
  regime: BroodRegime,
  broodC: Series | undefined,
  probeMovedMs: number,
  nowMs: number,
): NucSignals['doses'] {
  const { queenInCage = false } = input;
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
