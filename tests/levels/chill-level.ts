/**
 * Chilling is announced an hour before it comes, and hardly ever when it does not: by the two rules that tell the keeper
 * of it, with the limits and the holding times that they are delivered with; in the simulator and in a second nest.
 */
import type { NucInput } from '../../server/rules/engine/inputs.ts';
import { noLimitSettings, type LimitSettings } from '../../server/rules/engine/limits.ts';
import { chillingAhead } from '../../server/rules/catalogue/temperature/chilling-ahead.ts';
import { chillingTonight } from '../../server/rules/catalogue/temperature/chilling-tonight.ts';
import { replay } from '../../server/rules/engine/replay.ts';
import type { AnalysisInput } from '../../server/signals/input.ts';
import { joinSeries } from '../../server/signals/bins.ts';
import { readDay } from '../../server/signals/day.ts';
import { daysBetween } from '../../server/signals/days.ts';
import { darkHours } from '../../server/signals/nights.ts';
import { probePlace } from '../../server/signals/brood/probe-place.ts';
import { chillOutlook, type NightSpan } from '../../server/signals/chill/outlook.ts';
import { between } from '../../server/signals/series.ts';
import type { Series } from '../../server/signals/types.ts';
import { nucInput, signals, stage } from '../rules/made-up.ts';
import { dayMs, simulatedCase } from '../signals/simulated.ts';
import { secondWorld } from './second-generator.ts';
import { secondNest } from './second-nest.ts';
import { spread } from './spread.ts';
import { shareLevel, type Level } from './level.ts';

const hourMs = 3_600_000;
const minuteMs = 60_000;
const days = 12;
const limitC = 32;
/** Chilled this long makes a chill night; less is neither one nor a calm night. */
const chillMinutes = 30;
const lookEveryMs = 15 * minuteMs;

export type NightVerdict = 'warned' | 'missed' | 'calm' | 'false';

/** A nuc whose true nest is known. */
export interface ChillCase {
  readonly input: AnalysisInput;
  readonly fromMs: number;
  readonly toMs: number;
  /** True temperature of the nest, at even steps. */
  readonly truth: Series;
  readonly openedMs: readonly number[];
}

interface ReadSeries {
  readonly brood: Series;
  /** Empty without an outside sensor. */
  readonly outside: Series;
  readonly days: readonly ReturnType<typeof readDay>[];
}

/** Bins of which a reading had arrived by `nowMs`. */
const known = (bins: Series, nowMs: number): Series => between(bins, -Infinity, nowMs - 5 * minuteMs);

/** What the nuc's own input says at one instant, as far as the two rules look at it. */
function told(
  { input }: ChillCase,
  series: ReadSeries,
  nights: readonly NightSpan[],
  nightAhead: NightSpan,
  nowMs: number,
) {
  const brood = known(series.brood, nowMs);
  const regime = input.broodRegime(nowMs);
  const bees = (input.framesOfBees ?? 3) * 1900 * 0.75;
  const place = probePlace({
    brood,
    outside: known(series.outside, nowMs),
    nowMs,
    bees,
    events: input.events.filter((event) => event.atMs <= nowMs),
  });
  const outlook = chillOutlook({
    doubts: place.doubts,
    nowMs,
    brood,
    outside: known(series.outside, nowMs),
    nights,
    nightAhead,
    bees,
    events: input.events.filter((event) => event.atMs <= nowMs),
  });
  const latest = { latestC: brood.value.at(-1) ?? null, latestAtMs: brood.atMs.at(-1) ?? null };
  const uneventful = signals({}, regime);
  const broodDays = series.days.flatMap(({ day, broodDay }) =>
    broodDay && day.toMs <= nowMs ? [broodDay] : [],
  );
  return nucInput({
    nowMs,
    introduction: stage(),
    signals: {
      ...uneventful,
      probePlace: place,
      broodDays,
      outlook,
      brood: { ...uneventful.brood, ...latest },
    },
  });
}

/** What the rules look at over one night, and what became of it. */
export interface ChillNight {
  readonly chilled: boolean;
  readonly fromMs: number;
  readonly untilMs: number;
  readonly inputs: ReadonlyMap<number, NucInput>;
}

/** Whether either rule is raised, held for as long as it has to be, before the night is over or has chilled. */
export function verdictOf(night: ChillNight, limits: LimitSettings = noLimitSettings): NightVerdict {
  const { fromMs, untilMs, inputs } = night;
  const told = replay({
    fromMs,
    toMs: untilMs,
    stepMs: lookEveryMs,
    limits,
    rules: [chillingAhead, chillingTonight],
    inputsAt: (nowMs) => {
      const input = inputs.get(Math.floor(nowMs / lookEveryMs) * lookEveryMs);
      return input ? [{ ...input, nowMs }] : [];
    },
  }).raisings.length;
  if (night.chilled) return told > 0 ? 'warned' : 'missed';
  return told > 0 ? 'false' : 'calm';
}

const asRead = (nuc: ChillCase): ChillCase => nuc;
/** The nuc without its outside sensor. */
export function withoutOutside(nuc: ChillCase): ChillCase {
  const { outsideC: _, ...series } = nuc.input.series;
  return { ...nuc, input: { ...nuc.input, series } };
}

/** The nights of one nuc that begin warm and undisturbed. No forecast is given: persistence has to do. */
export function chillNights(nuc: ChillCase): ChillNight[] {
  const { input, truth } = nuc;
  const read = daysBetween(input.place.timeZone, nuc.fromMs, nuc.toMs - 1).map((day) => readDay(day, input));
  const series = {
    brood: joinSeries(read.map((d) => d.brood)),
    outside: joinSeries(read.map((d) => d.outside)),
    days: read,
  };
  const spans = read.slice(1).map((d, i) => darkHours(input.place, d.day.date, read[i]!.day.date));
  const stepMs = (truth.atMs[1] as number) - (truth.atMs[0] as number);
  const coldest = (fromMs: number, toMs: number): { minutes: number; firstMs: number | null } => {
    const { atMs, value } = between(truth, fromMs, toMs);
    const first = value.findIndex((v) => v < limitC);
    const minutes = (value.filter((v) => v < limitC).length * stepMs) / minuteMs;
    return { minutes, firstMs: first < 0 ? null : (atMs[first] as number) };
  };
  return spans.flatMap((span, k): ChillNight[] => {
    const fromMs = span.fromMs - 5 * hourMs;
    const toMs = span.toMs + 2 * hourMs;
    if (fromMs < nuc.fromMs + dayMs || toMs > (truth.atMs.at(-1) as number) + stepMs) return [];
    const visited = nuc.openedMs.some((atMs) => atMs > fromMs - 6 * hourMs && atMs < toMs);
    if (visited || coldest(fromMs - 6 * hourMs, fromMs).minutes > 0) return [];
    const { firstMs, minutes } = coldest(fromMs, toMs);
    if (firstMs !== null && minutes < chillMinutes) return [];
    const untilMs = firstMs === null ? span.toMs : firstMs - hourMs;
    const beginMs = firstMs === null ? fromMs : Math.min(fromMs, untilMs - 6 * hourMs);
    const inputs = new Map<number, NucInput>();
    for (let at = Math.floor(beginMs / lookEveryMs) * lookEveryMs; at <= untilMs; at += lookEveryMs)
      inputs.set(at, told(nuc, series, spans.slice(0, k), span, at));
    return [{ chilled: firstMs !== null, fromMs: beginMs, untilMs, inputs }];
  });
}

export function simulatedChill(
  seed: number,
  setting: 'usual' | 'unseen',
  scenario: 'cold-snap' | 'clean',
): ChillCase {
  const { nuc, input } = simulatedCase({ seed, setting, days, scenario });
  const { truth } = nuc;
  return {
    input,
    fromMs: nuc.splitMs,
    toMs: nuc.splitMs + days * dayMs,
    truth: {
      atMs: Float64Array.from({ length: truth.minutes }, (_, i) => truth.startMs + i * minuteMs),
      value: Float64Array.from(truth.broodC.subarray(0, truth.minutes)),
    },
    openedMs: truth.events.filter(({ kind }) => kind === 'opened').map(({ atMs }) => atMs),
  };
}

const beesOf = { weak: [700, 3000], ordinary: [3500, 8000] } as const;
const stepMin = 5;

/** A cold front over the weather of a second world: so many K colder within six hours, for two to four days. */
function withFront(seed: number, outsideC: Float64Array): Float64Array {
  const part = (k: number): number => spread(seed, 5 + k) / 2 ** 32;
  const [fromDay, lastsDays, deepK] = [3 + 5 * part(1), 2 + 2 * part(2), 6 + 7 * part(3)];
  const rampDays = 0.25;
  return outsideC.map((tempC, i) => {
    const day = (i * stepMin) / 1440 - fromDay;
    const in01 = Math.min(1, Math.max(0, Math.min(day, lastsDays - day) / rampDays));
    return tempC - deepK * in01;
  });
}

/** A nest by other equations, under weather by other equations; nobody opens it. */
export function secondChill(seed: number, strength: 'weak' | 'ordinary'): ChillCase {
  const weather = seed % 2 === 0 ? 'ordinary' : 'cold-spring';
  const { movedAtMs, atMs, latDeg, lonDeg, ...world } = secondWorld(seed, { days, weather });
  const outsideC = strength === 'weak' ? withFront(seed, world.outsideC) : world.outsideC;
  const nest = secondNest(seed, outsideC, stepMin, { bees: beesOf[strength] });
  return {
    input: {
      series: { broodC: { atMs, value: nest.readC }, outsideC: { atMs, value: outsideC } },
      place: { latDeg, lonDeg, timeZone: 'Europe/Berlin' },
      events: [{ atMs: movedAtMs, kind: 'split' }],
      movedAtMs,
      broodRegime: () => 'sealed-brood',
      framesOfBees: Math.max(0.25, Math.round((nest.bees / 1400) * 4) / 4),
    },
    fromMs: movedAtMs,
    toMs: movedAtMs + days * dayMs,
    truth: { atMs, value: nest.coreC },
    openedMs: [movedAtMs],
  };
}

export const chillVerdicts = (
  seed: number,
  setting: 'usual' | 'unseen',
  scenario: 'cold-snap' | 'clean',
  readAs: (nuc: ChillCase) => ChillCase = asRead,
): NightVerdict[] =>
  chillNights(readAs(simulatedChill(seed, setting, scenario))).map((night) => verdictOf(night));

const count = (verdict: NightVerdict, of: readonly NightVerdict[]): number =>
  of.filter((v) => v === verdict).length;

/** `name` is put behind each line. */
function chillTable(
  weak: readonly NightVerdict[],
  ordinary: readonly NightVerdict[],
  name: string,
  goal: { readonly atLeast?: number },
): Level[] {
  const all = [...weak, ...ordinary];
  const chilled = count('warned', all) + count('missed', all);
  const calm = (of: readonly NightVerdict[]): number => count('calm', of) + count('false', of);
  return [
    shareLevel(`chill nights announced 60 min or more ahead${name}`, count('warned', all), chilled, goal),
    shareLevel(`false in calm nights, ordinary nucs${name}`, count('false', ordinary), calm(ordinary), {
      atMost: 1,
    }),
    // No goal: these nests sink to a degree or two above the limit, and a keeper would want to know.
    shareLevel(`the same, weak nucs in a cold spell${name}`, count('false', weak), calm(weak), {}),
  ];
}

const readWith = [
  { readAs: asRead, name: '', goal: { atLeast: 95 } },
  // No goal: the cold of the night is not known, only the nest tells of it.
  { readAs: withoutOutside, name: ', without an outside sensor', goal: {} },
] as const;

export function chillLevels(seeds: readonly number[], setting: 'usual' | 'unseen'): Level[] {
  const simulated = readWith.flatMap(({ readAs, name, goal }) =>
    chillTable(
      seeds.flatMap((seed) => chillVerdicts(seed, setting, 'cold-snap', readAs)),
      seeds.flatMap((seed) => chillVerdicts(seed, setting, 'clean', readAs)),
      name,
      goal,
    ),
  );
  // It has one setting, of which nothing was tuned.
  if (setting === 'unseen') return simulated;
  return [...simulated, ...secondChillLevels(seeds)];
}

/** Weak nucs drawn for each seed: most hold every night, and of these nothing is asked. */
const weakDrawn = 5;

/** Of the weak nucs of the second nest those that some night chills, in order of the seeds. */
export const secondWeak = (seeds: readonly number[]): ChillCase[] =>
  seeds
    .flatMap((seed) => Array.from({ length: weakDrawn }, (_, k) => secondChill(weakDrawn * seed + k, 'weak')))
    .filter(({ truth, fromMs }) =>
      truth.value.some((v, i) => v < limitC && (truth.atMs[i] as number) > fromMs + dayMs),
    );

function secondChillLevels(seeds: readonly number[]): Level[] {
  const verdicts = (cases: readonly ChillCase[]): NightVerdict[] =>
    cases.flatMap((nuc) => chillNights(nuc).map((night) => verdictOf(night)));
  const weak = secondWeak(seeds);
  const ordinary = seeds.map((seed) => secondChill(seed, 'ordinary'));
  return readWith.flatMap(({ readAs, name, goal }) =>
    chillTable(verdicts(weak.map(readAs)), verdicts(ordinary.map(readAs)), `, second nest${name}`, goal),
  );
}
