/** Everything that the readings of one nuc say at one instant. */
import { beesPerFrame } from '../biology/thermal-figures.ts';
import { workerBodyG } from '../biology/weight-figures.ts';
import { calendarOf, dayOf, forgetOthers, remember, type AnalysisCache } from './analysis-cache.ts';
import { joinBins } from './bins.ts';
import { broodTemperature } from './brood-temperature.ts';
import { thermalDoses } from './chill.ts';
import { cleanTemperature, type NucDay } from './day.ts';
import { dateAt, daysBetween } from './days.ts';
import { joinFlights } from './flight.ts';
import { driftWindowMs, forageDriftOf } from './forager-drift.ts';
import type { AnalysisInput } from './input.ts';
import { massDepartures } from './mass-departure.ts';
import { darkHours, nightAndDay, steepestFall, type NightAndDay } from './nights.ts';
import { chillOutlook } from './outlook.ts';
import { probeJumps } from './probe-jumps.ts';
import { colonyFailing, regulation } from './regulation.ts';
import { dayLoss, robbing, type DayLoss } from './robbing.ts';
import { between, hourMs } from './series.ts';
import { nightsWithoutSteps, stores } from './stores.ts';
import type { BroodRegime, Estimate, MassDeparture, NucSignals, PopulationNow, Series } from './types.ts';

export type { AnalysisInput } from './input.ts';
export { newAnalysisCache, type AnalysisCache } from './analysis-cache.ts';

/**
 * Reads a nuc's series up to `nowMs`. With a `cache` from an earlier call only the days whose readings changed are
 * read again; the order in which readings arrived makes no difference. Declines, with a reason, whatever the
 * readings do not bear.
 */
export function analyseNuc(input: AnalysisInput, nowMs: number, cache?: AnalysisCache): NucSignals {
  const { place, series } = input;
  const seen = upTo(input, nowMs);
  const spanFromMs = firstReading(seen, nowMs);
  const localDays = calendarOf(cache, place, spanFromMs, nowMs);
  forgetOthers(cache, localDays);
  const days = localDays.map((day) => dayOf(day, seen, cache));
  const nights = days.map((day, i) => {
    // A day that is over no longer depends on the instant.
    const open = day.day.toMs > nowMs ? nowMs : null;
    return remember(cache, `night ${day.day.date}`, [day, days[i - 1], open], () =>
      nightAndDay(place, day, days[i - 1], nowMs),
    );
  });
  const steps = days.flatMap((day) => day.steps);
  const recent = recentDays(days, nowMs);
  const nightWeights = nights.flatMap(({ night }) => (night ? [night] : []));
  const { drift, scaleTemperature } = forageDriftOf(driftInput(input, seen, days, steps, nowMs), cache);
  const departures = departuresOf(input, days, drift.bees, cache);
  const broodDays = days.flatMap((day) => (day.broodDay ? [day.broodDay] : []));
  const regime = input.broodRegime(nowMs);
  const regimeOn = (date: string): BroodRegime => {
    const day = localDays.find((d) => d.date === date);
    return input.broodRegime(day ? (day.fromMs + day.toMs) / 2 : nowMs);
  };
  const today = dateAt(place.timeZone, nowMs);
  const jumps = probeJumps(recent.brood, input.events);
  const driftOverMs =
    drift.state === 'gone' || drift.state === 'cannot-tell'
      ? (input.movedAtMs ?? -Infinity) + 72 * hourMs
      : Infinity;
  const storesNow = stores({
    nights: nightsWithoutSteps(nightWeights, steps).filter(
      (night) => night.toMs > Math.min(driftOverMs, nowMs),
    ),
    grossG: nightWeights.at(-1)?.levelG ?? null,
    ...(input.emptyBoxG === undefined ? {} : { tareG: input.emptyBoxG }),
    ...(input.beesNow === undefined ? {} : { bees: input.beesNow }),
  });
  const { brood } = recent;
  return {
    nowMs,
    nightWeights,
    steps,
    drift,
    daily: nights.map(({ daily }) => daily),
    stores: storesNow.daysLeft,
    storesG: storesNow.storesG,
    consumptionGPerDay: storesNow.consumptionGPerDay,
    massDepartures: departures,
    robbing: robbing(losses(days, nights, departures, nowMs)),
    brood: broodTemperature(regime, lastDays(series.broodC, nowMs), brood, recent.outside, nowMs),
    broodDays,
    doses: doses(input, regime, nowMs),
    outlook: outlook(input, nights, recent, nowMs),
    regulation: regulation(
      broodDays,
      input.releasedAtMs === undefined ? null : dateAt(place.timeZone, input.releasedAtMs),
      today,
      regimeOn,
    ),
    failing: colonyFailing(
      broodDays,
      today,
      regimeOn,
      jumps.map((jump) => ({ ...jump, date: dateAt(place.timeZone, jump.atMs) })),
    ),
    probeJumps: jumps,
    scaleTemperature,
    population: population(input, drift.bees),
  };
}

/** The input without what lies in the future of `nowMs`: a replay sees no further than its instant. */
function upTo(input: AnalysisInput, nowMs: number): AnalysisInput {
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

/** The last twelve days as one run of bins. */
function recentDays(days: readonly NucDay[], nowMs: number) {
  const kept = days.filter((day) => day.day.toMs > nowMs - 12 * 24 * hourMs);
  return {
    brood: joinBins(kept.map((day) => day.brood)),
    outside: joinBins(kept.map((day) => day.outside)),
  };
}

function driftInput(
  input: AnalysisInput,
  seen: AnalysisInput,
  days: readonly NucDay[],
  steps: NucSignals['steps'],
  nowMs: number,
) {
  const movedAtMs = input.movedAtMs;
  const fromMs = movedAtMs ?? nowMs - driftWindowMs;
  const toMs = Math.min(nowMs, fromMs + driftWindowMs);
  const kept = days.filter((day) => day.day.toMs > fromMs - 12 * hourMs && day.day.fromMs <= toMs);
  return {
    movedAtMs,
    nowMs,
    weight: joinBins(kept.map((day) => day.weight)),
    outside: joinBins(kept.map((day) => day.outside)),
    ...(seen.series.rainMm ? { rain: seen.series.rainMm } : {}),
    flight: joinFlights(kept.map((day) => day.flight)),
    steps: steps.filter((step) => step.atMs >= fromMs && step.atMs <= toMs),
    events: seen.events,
    dayStartsMs: kept.map((day) => day.day.fromMs),
    ...(input.framesOfBees === undefined ? {} : { framesOfBees: input.framesOfBees }),
  };
}

function departuresOf(
  input: AnalysisInput,
  days: readonly NucDay[],
  lost: Estimate,
  cache: AnalysisCache | undefined,
): MassDeparture[] {
  const bees = beesAtMost(input);
  const here = bees === undefined ? undefined : Math.max(0, bees - (lost.ok ? lost.value : 0));
  // To a hundred grams: the limit need not move with every reading.
  const beesG = here === undefined ? undefined : Math.round((here * workerBodyG.value) / 100) * 100;
  return days.flatMap((day, i) => {
    const around = days.slice(Math.max(0, i - 1), i + 2);
    return remember(cache, `departure ${day.day.date}`, [beesG, ...around], () =>
      massDepartures({
        weight: joinBins(around.map((d) => d.weight)),
        brood: joinBins(around.map((d) => d.brood)),
        flight: joinFlights(around.map((d) => d.flight)),
        steps: around.flatMap((d) => d.steps),
        fromMs: day.day.fromMs,
        toMs: day.day.toMs,
        ...(beesG === undefined ? {} : { beesG }),
      }),
    );
  });
}

/** Adults by the projection, or by the frames at the split, which only become fewer before new bees emerge. */
const beesAtMost = (input: AnalysisInput): number | undefined =>
  input.beesNow ?? (input.framesOfBees === undefined ? undefined : input.framesOfBees * beesPerFrame.value);

function losses(
  days: readonly NucDay[],
  nights: readonly NightAndDay[],
  departures: readonly MassDeparture[],
  nowMs: number,
): DayLoss[] {
  return nights.flatMap(({ daily, night, dayWeight }, i) => {
    const { day, steps } = days[i] as NucDay;
    const loss = dayLoss(
      daily,
      night,
      null,
      departures.filter((d) => d.fromMs >= day.fromMs && d.fromMs < day.toMs),
      steps,
      steepestFall(dayWeight, day.fromMs, day.toMs),
      day.toMs > nowMs,
    );
    return loss ? [loss] : [];
  });
}

const lastDays = (series: Series | undefined, nowMs: number): Series | undefined =>
  series && cleanTemperature(between(series, nowMs - 48 * hourMs, nowMs + 1));

function doses(input: AnalysisInput, regime: BroodRegime, nowMs: number): NucSignals['doses'] {
  const { queenInCage, series } = input;
  const broodC = lastDays(series.broodC, nowMs);
  const cageC = lastDays(series.cageC, nowMs);
  return thermalDoses({
    regime,
    nowMs,
    events: input.events,
    queenInCage:
      queenInCage !== undefined && queenInCage.fromMs <= nowMs && nowMs < (queenInCage.toMs ?? Infinity),
    ...(broodC ? { broodC } : {}),
    ...(cageC ? { cageC } : {}),
  });
}

function outlook(
  input: AnalysisInput,
  nights: readonly NightAndDay[],
  recent: ReturnType<typeof recentDays>,
  nowMs: number,
) {
  const spans = nights.map(({ span }) => span);
  const bees = beesAtMost(input);
  return chillOutlook({
    nowMs,
    brood: recent.brood,
    outside: recent.outside,
    nights: spans.filter((span) => span.toMs <= nowMs),
    nightAhead: spans.find((span) => span.toMs > nowMs) ?? nextNight(input, nowMs),
    events: input.events,
    ...(bees === undefined ? {} : { bees }),
    ...(input.forecast ? { forecast: input.forecast } : {}),
  });
}

function nextNight(input: AnalysisInput, nowMs: number) {
  const [today, tomorrow] = daysBetween(input.place.timeZone, nowMs, nowMs + 26 * hourMs);
  return darkHours(input.place, tomorrow?.date ?? today?.date ?? '', today?.date ?? '');
}

function population(input: AnalysisInput, lost: Estimate): PopulationNow {
  const { framesOfBees, beesNow } = input;
  if (beesNow !== undefined) {
    const half = 0.25 * beesNow;
    return {
      bees: {
        ok: true,
        value: beesNow,
        low: beesNow - half,
        high: beesNow + half,
        level: 0.9,
        restsOn: ['the population projection'],
      },
    };
  }
  if (framesOfBees === undefined)
    return { bees: { ok: false, why: 'the frames of bees at the split are not entered' } };
  if (!lost.ok) return { bees: { ok: false, why: `the drift is not known: ${lost.why}` } };
  const start = framesOfBees * beesPerFrame.value;
  const half = 1.645 * Math.hypot(0.15 * start, (lost.high - lost.low) / 3.29);
  const value = Math.max(0, start - lost.value);
  return {
    bees: {
      ok: true,
      value,
      low: Math.max(0, value - half),
      high: value + half,
      level: 0.9,
      restsOn: [
        `${String(framesOfBees)} frames of bees at the split`,
        'less those that flew home; emerging bees are not counted',
      ],
    },
  };
}
