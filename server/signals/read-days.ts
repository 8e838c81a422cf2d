/** The local days of a nuc's readings, each with its night; what was read before comes out of the cache. */
import { withLater } from '../lazily.ts';
import { workerBodyG } from '../biology/weight-figures.ts';
import {
  calendarOf,
  daysOf,
  forgetOthers,
  memoize,
  memoizeEach,
  type AnalysisCache,
} from './analysis-cache.ts';
import { joinBins, joinSeries } from './bins.ts';
import type { NucDay } from './kept-day.ts';
import { dayAfter, dayBefore, daysBetween, type LocalDay } from './days.ts';
import { flightBetween, joinFlights } from './drift/flight.ts';
import { driftWindowMs, type DriftInput } from './drift/drift-input.ts';
import type { AnalysisInput } from './input.ts';
import { massDepartures } from './weight/mass-departure.ts';
import { darkBetween, nightAndDay, type NightAndDay } from './nights.ts';
import type { BeesOnDay } from '../biology/nuc-population.ts';
import { beesAtMost, beesByDay } from './drift/population.ts';
import { dayLoss, isCarriedOff, type DayLoss } from './weight/robbing.ts';
import type { NightSpan } from './chill/outlook.ts';
import { between, emptySeries, hourMs } from './series.ts';
import { sunDay, type SunDay } from './sun.ts';
import type { Estimate, MassDeparture, Series, SitePlace } from './types.ts';

/** Method: of the day of the move the hours before it tell too. */
const halfDayMs = 12 * hourMs;
const dayMs = 2 * halfDayMs;

export interface ReadDays {
  readonly localDays: readonly LocalDay[];
  readonly days: readonly NucDay[];
  /** Dark hours before each day. */
  readonly spans: readonly NightSpan[];
  /** The night before each day, and the day's curve after it. */
  readonly nights: readonly NightAndDay[];
}

export function readDays(seen: AnalysisInput, nowMs: number, cache: AnalysisCache | undefined): ReadDays {
  const { place } = seen;
  const localDays = calendarOf(cache, place, firstReading(seen, nowMs), nowMs);
  forgetOthers(cache, localDays);
  const days = daysOf(localDays, seen, cache);
  const sunOf = (date: string): SunDay => sunDay(place, date);
  const spans = memoize(cache, 'dark-spans', [localDays], () =>
    localDays.map(({ date }, i) =>
      darkBetween(sunOf(localDays[i - 1]?.date ?? dayBefore(date)), sunOf(date), date),
    ),
  );
  const nights = memoizeEach(cache, 'nights', days, null, (day, i) => {
    // A day that is over no longer depends on the instant.
    const open = day.day.toMs > nowMs ? nowMs : null;
    return memoize(cache, `night ${day.day.date}`, [day, days[i - 1], open], () =>
      nightAndDay(sunOf, day, days[i - 1], nowMs),
    );
  });
  return { localDays, days, spans, nights };
}

/** The night that comes after the day of `nowMs`, its newest. */
export function nextNight(
  { localDays }: ReadDays,
  place: SitePlace,
  cache: AnalysisCache | undefined,
): NightSpan {
  const today = localDays.at(-1)?.date as string;
  return memoize(cache, 'next-night', [today], () => {
    const tomorrow = dayAfter(today);
    return darkBetween(sunDay(place, today), sunDay(place, tomorrow), tomorrow);
  });
}

/** The input without what lies in the future of `nowMs`: a replay sees no further than its instant. */
export function upTo(input: AnalysisInput, nowMs: number): AnalysisInput {
  const series = Object.fromEntries(
    Object.entries(input.series).map(([name, s]) => [name, between(s as Series, -Infinity, nowMs + 1)]),
  );
  return { ...input, series, events: input.events.filter((event) => event.atMs <= nowMs) };
}

function firstReading({ series }: AnalysisInput, nowMs: number): number {
  const firsts = [series.weightG, series.broodC, series.outsideC, series.cageC].flatMap(
    (s) => s?.atMs[0] ?? [],
  );
  return Math.min(nowMs, ...firsts);
}

/** Bees of the box, g, to a hundred: the limits need not move with every reading. */
export interface BeesOfBox {
  /** What is left of those of the split; undefined where they were not counted. */
  readonly beesG: number | undefined;
  /** The most that there can be on a day, with all that has emerged. */
  readonly mostG: (day: NucDay) => number | undefined;
  /** How many there are, with all that has emerged; undefined where they were not counted at the split. */
  readonly at: (atMs: number) => BeesOnDay | undefined;
  readonly key: string;
}

/** `lost` are the bees that flew home. */
export function beesOfBox(input: AnalysisInput, lost: Estimate, cache: AnalysisCache | undefined): BeesOfBox {
  const bees = beesAtMost(input);
  const here = bees === undefined ? undefined : Math.max(0, bees - (lost.ok ? lost.value : 0));
  const beesG = here === undefined ? undefined : toHundredG(here);
  const gone = lost.ok
    ? { bees: inHundredG(lost.value), low: inHundredG(lost.low), high: inHundredG(lost.high) }
    : undefined;
  const { movedAtMs, noneFlewHome, framesOfBees, framesOfBrood } = input;
  const from = [framesOfBees, noneFlewHome, JSON.stringify([framesOfBrood, gone])];
  const byDay = memoize(cache, 'bees-by-day', from, () => beesByDay(input, gone));
  const at = (atMs: number): BeesOnDay | undefined =>
    movedAtMs === undefined ? undefined : byDay?.((atMs - movedAtMs) / dayMs);
  const mostG = ({ day }: NucDay): number | undefined => {
    const then = at(day.fromMs);
    return then ? toHundredG(then.high) : beesG;
  };
  return { beesG, mostG, at, key: [beesG, ...from].join(' ') };
}

/** Departures in a mass, a list a day. On a day on which honey is carried off, only what cooled the brood was bees. */
export function departuresByDay(
  { days, nights }: ReadDays,
  { beesG, mostG: mostOf, key }: BeesOfBox,
  cache: AnalysisCache | undefined,
): MassDeparture[][] {
  return memoizeEach(cache, 'departures', days, key, (day, i) => {
    const around = days.slice(Math.max(0, i - 1), i + 2);
    const mostG = mostOf(day);
    const carriedOff = isCarriedOff((nights[i] as NightAndDay).taken, mostG);
    return memoize(cache, `departure ${day.day.date}`, [beesG, mostG, carriedOff, ...around], () => {
      const found = massDepartures(
        withLater(
          {
            weight: joinBins(around.map((d) => d.weight)),
            steps: around.flatMap((d) => d.steps),
            fromMs: day.day.fromMs,
            toMs: day.day.toMs,
            ...(beesG === undefined ? {} : { beesG }),
            ...(mostG === undefined ? {} : { mostBeesG: mostG }),
          },
          {
            brood: () => joinSeries(around.map((d) => d.brood)),
            flight: () => joinFlights(around.map((d) => d.flight)),
          },
        ),
      );
      return carriedOff ? found.filter(({ temperatureFollowed }) => temperatureFollowed === true) : found;
    });
  });
}

const toHundredG = (bees: number): number => Math.round((bees * workerBodyG.value) / 100) * 100;
const inHundredG = (bees: number): number => toHundredG(bees) / workerBodyG.value;

/** What each day took; days that can't be read are left out. */
export function dayLosses(
  { days, nights }: ReadDays,
  { mostG, key }: BeesOfBox,
  departures: readonly (readonly MassDeparture[])[],
  nowMs: number,
  cache: AnalysisCache | undefined,
): DayLoss[] {
  // A day's departures are read anew whenever it is.
  const losses = memoizeEach(cache, 'losses', departures, key, (gone, i) => {
    const { day, steps } = days[i] as NucDay;
    const of = nights[i] as NightAndDay;
    const open = day.toMs > nowMs;
    const carriedOff = isCarriedOff(of.taken, mostG(days[i] as NucDay));
    return memoize(cache, `loss ${day.date}`, [of, steps, gone, open, carriedOff], () => {
      const lowestG = carriedOff && of.night && of.taken ? of.night.levelG - of.taken.lossG : null;
      return dayLoss(of.daily, of.night, lowestG, gone, steps, of.steepestFallGPerH, open, carriedOff);
    });
  });
  return losses.filter((loss) => loss !== null);
}

/** The days since the move, up to so long after it, that the forager drift is read from; none where no move is known. */
export function driftDays(
  { movedAtMs }: AnalysisInput,
  days: readonly NucDay[],
  nowMs: number,
  windowMs: number,
): NucDay[] {
  if (movedAtMs === undefined) return [];
  const toMs = Math.min(nowMs, movedAtMs + windowMs);
  return days.filter(({ day }) => day.toMs > movedAtMs - halfDayMs && day.fromMs <= toMs);
}

/** Days between the move and the first reading, as where a sensor was put under the nuc later. */
function unreadDays({ place, movedAtMs }: AnalysisInput, kept: readonly NucDay[], toMs: number): LocalDay[] {
  if (movedAtMs === undefined) return [];
  const readFromMs = kept[0]?.day.fromMs ?? toMs;
  return daysBetween(place.timeZone, movedAtMs, readFromMs - 1);
}

/** What the forager drift is read from: the days since the move, and the flying weather up to so long after it. */
export function driftInput(
  seen: AnalysisInput,
  days: readonly NucDay[],
  nowMs: number,
  windowMs = driftWindowMs,
): DriftInput {
  const { movedAtMs } = seen;
  const fromMs = movedAtMs ?? nowMs;
  const toMs = Math.min(nowMs, fromMs + driftWindowMs);
  const kept = driftDays(seen, days, nowMs, driftWindowMs);
  const flown = driftDays(seen, days, nowMs, windowMs);
  const unread = unreadDays(seen, kept, toMs);
  const unknownFlight = unread.map((day) => flightBetween(seen.place, day.fromMs, day.toMs, emptySeries));
  const localDays = [...unread, ...flown.map(({ day }) => day)];
  return {
    movedAtMs,
    ...(seen.noneFlewHome ? { noneFlewHome: true } : {}),
    nowMs,
    weight: joinBins(kept.map((day) => day.weight)),
    outside: joinSeries(flown.map((day) => day.outside)),
    ...(seen.series.rainMm ? { rain: seen.series.rainMm } : {}),
    ...(seen.series.settledG ? { settled: seen.series.settledG } : {}),
    flight: joinFlights([...unknownFlight, ...flown.map((day) => day.flight)]),
    steps: kept.flatMap((day) => day.steps).filter((step) => step.atMs >= fromMs && step.atMs <= toMs),
    events: seen.events,
    dayStartsMs: localDays.filter((day) => day.toMs > fromMs).map((day) => day.fromMs),
    ...(seen.framesOfBees === undefined ? {} : { framesOfBees: seen.framesOfBees }),
  };
}
