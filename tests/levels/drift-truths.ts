/**
 * Splits whose loss of foragers is known, from four worlds: the simulator with small nucs and with the size that keepers
 * make, the second generator, and a loss laid on the open weight series of real hives.
 */
import type { AnalysisInput } from '../../server/signals/analyse.ts';
import type { KnownEvent, NucSeries, Series } from '../../server/signals/types.ts';
import type { ScenarioOptions } from '../../simulator/index.ts';
import { present, sydney, sydneyWeight } from '../open-data/data.ts';
import { simulatedCase } from '../signals/simulated.ts';
import { secondWorld, type SecondOptions, type SecondWorld } from './second-generator.ts';
import { spread } from './spread.ts';

const hourMs = 3_600_000;
const minuteMs = 60_000;

export interface DriftTruth {
  readonly input: AnalysisInput;
  readonly movedAtMs: number;
  /** Old bees gone by an instant: mass, g, and share of all who will go. */
  readonly goneG: (atMs: number) => number;
  readonly goneShare: (atMs: number) => number;
}

export type MakeTruth = (seed: number, days: number) => DriftTruth;

type Happenings = NonNullable<ScenarioOptions['happenings']>;

/** A nuc of the simulator, with happenings told from the split on. */
export const simulated =
  (
    options: Omit<ScenarioOptions, 'seed' | 'days'>,
    happenings?: (splitMs: number, seed: number) => Happenings,
  ): MakeTruth =>
  (seed, days) => {
    const splitMs = happenings ? simulatedCase({ ...options, seed, days: 0.1 }).nuc.splitMs : 0;
    const more = happenings ? { happenings: happenings(splitMs, seed) } : {};
    const { nuc, input } = simulatedCase({ ...options, seed, days: days + 0.1, ...more });
    const { truth } = nuc;
    const minute = (atMs: number): number =>
      Math.min(truth.minutes - 1, Math.max(0, Math.floor((atMs - truth.startMs) / minuteMs)));
    return {
      input,
      movedAtMs: nuc.splitMs,
      goneG: (atMs) => truth.driftedMassG[minute(atMs)] as number,
      goneShare: (atMs) => (truth.driftedBees[minute(atMs)] as number) / Math.max(1, truth.willDriftBees),
    };
  };

export const second =
  (options: Omit<SecondOptions, 'days'> = {}): MakeTruth =>
  (seed, days) => {
    const world = secondWorld(seed, { ...options, days: days + 0.1 });
    return truthOf(world, inputOf(world));
  };

/** What the sensors and the keeper tell of a split of the second generator. */
export function inputOf(
  { movedAtMs, atMs, latDeg, lonDeg, weightG, outsideC, rainMm, framesOfBees }: SecondWorld,
  place: AnalysisInput['place'] = { latDeg, lonDeg, timeZone: 'Europe/Berlin' },
  shown: Float64Array = weightG,
): AnalysisInput {
  const events: readonly KnownEvent[] = [{ atMs: movedAtMs, kind: 'split' }];
  return {
    series: {
      weightG: { atMs, value: shown },
      outsideC: { atMs, value: outsideC },
      rainMm: { atMs, value: rainMm },
    },
    place,
    events,
    movedAtMs,
    broodRegime: () => 'open-brood',
    framesOfBees,
  };
}

function truthOf(world: SecondWorld, input: AnalysisInput): DriftTruth {
  const { movedAtMs, atMs } = world;
  const at = (values: Float64Array, instant: number): number =>
    values[
      Math.min(atMs.length - 1, Math.max(0, Math.floor((instant - movedAtMs) / (5 * minuteMs))))
    ] as number;
  return {
    movedAtMs,
    input,
    goneG: (instant) => at(world.goneG, instant),
    goneShare: (instant) => at(world.goneShare, instant),
  };
}

/** The five hives that stood at one place on one day; absent without the open data. */
export const realHives: readonly number[] = present ? [1, 2, 4, 6, 8] : [];

/**
 * A day of a real hive again and again under a loss of the second generator. The line through the day is taken off (its
 * foragers' income, which a split has not), and each day is given a net of its own: 29-55 g from day to day is what real
 * scales were seen to wander, most of it common to a place. `traffic` is how much of the day's coming and going is left: a
 * split has a quarter of such a hive's bees, none of them afield when it is set down, so that it grows over the first
 * day. Siblings are the other four hives of that day.
 */
export const laidOnReal =
  (options: { traffic: number; siblings: boolean }): MakeTruth =>
  (seed, days) => {
    const hive = realHives[seed % realHives.length] as number;
    const world = secondWorld(seed, {
      days: days + 0.1,
      dayOfYear: 97,
      latDeg: sydney.latDeg,
      lonDeg: sydney.lonDeg,
    });
    const nets = netsOf(seed, days + 2);
    const own = (which: number): Float64Array => {
      const perDay = sydneyDay(which);
      const shift = new Date(world.movedAtMs + 10 * hourMs);
      const startMinute = shift.getUTCHours() * 60 + shift.getUTCMinutes();
      let level = 20_000;
      let dayStart = level;
      return world.atMs.map((_, i) => {
        const minute = startMinute + 5 * i;
        const inDay = minute % 1440;
        const day = Math.floor(minute / 1440);
        if (inDay < 5) dayStart = level;
        const net = nets(which, day) * ((inDay + 5) / 1440);
        if (inDay >= 1435) level = dayStart + nets(which, day);
        return dayStart + net + options.traffic * Math.min(1, i / 288) * (perDay[inDay] as number);
      });
    };
    const mine = own(hive);
    const loss = world.goneG;
    const shown = mine.map((g, i) => g - (loss[i] as number));
    const truth = truthOf(world, inputOf(world, sydney, shown));
    if (!options.siblings) return truth;
    const others = realHives.filter((one) => one !== hive).map(own);
    const settledG = world.atMs.map((_, i) => middle(others.map((g) => g[i] as number)));
    const series: NucSeries = { ...truth.input.series, settledG: { atMs: world.atMs, value: settledG } };
    return { ...truth, input: { ...truth.input, series } };
  };

const middle = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2
    ? (sorted[half] as number)
    : ((sorted[half - 1] as number) + (sorted[half] as number)) / 2;
};

const known = new Map<number, Float64Array>();

/** Minute by minute of the local day, less the straight line from its first to its last quarter of an hour. */
function sydneyDay(hive: number): Float64Array {
  const found = known.get(hive);
  if (found) return found;
  const { value } = sydneyWeight(hive);
  const first = middle([...value.subarray(0, 15)]);
  const last = middle([...value.subarray(-15)]);
  const day = Float64Array.from(
    { length: 1440 },
    (_, m) => (value[m] ?? last) - first - ((last - first) * m) / 1440,
  );
  known.set(hive, day);
  return day;
}

/** What each hive gains on each day, g: most of it the same at one place. */
function netsOf(seed: number, days: number): (hive: number, day: number) => number {
  let state = spread(seed, 4);
  const bell = (): number => {
    let sum = -6;
    for (let i = 0; i < 12; i++) {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      sum += state / 2 ** 32;
    }
    return sum;
  };
  const mean = -40 + 25 * bell();
  const wanderG = 42 + 6 * bell();
  const common = Array.from({ length: days }, () => Math.sqrt(0.7) * wanderG * bell());
  const alone = new Map<number, number[]>();
  for (const hive of realHives)
    alone.set(
      hive,
      Array.from({ length: days }, () => Math.sqrt(0.3) * wanderG * bell()),
    );
  return (hive, day) => mean + (common[day] as number) + (alone.get(hive)?.[day] as number);
}

/** The same split with fewer, coarser or no readings, or with less entered. */
export function changed(
  make: MakeTruth,
  change: (input: AnalysisInput, truth: DriftTruth, seed: number) => AnalysisInput,
): MakeTruth {
  return (seed, days) => {
    const truth = make(seed, days);
    return { ...truth, input: change(truth.input, truth, seed) };
  };
}

export const without =
  (...names: readonly (keyof NucSeries)[]) =>
  (input: AnalysisInput): AnalysisInput => ({
    ...input,
    series: Object.fromEntries(
      Object.entries(input.series).filter(([name]) => !names.includes(name as keyof NucSeries)),
    ),
  });

export const withoutFrames = ({ framesOfBees: _, ...input }: AnalysisInput): AnalysisInput => input;

const withWeight = (input: AnalysisInput, weightG: Series): AnalysisInput => ({
  ...input,
  series: { ...input.series, weightG },
});

export const everyMinutes =
  (minutes: number) =>
  (input: AnalysisInput): AnalysisInput => {
    const thin = (series: Series): Series => {
      let lastMs = -Infinity;
      const kept = Array.from(series.atMs.keys()).filter((i) => {
        if ((series.atMs[i] as number) - lastMs < (minutes - 0.5) * minuteMs) return false;
        lastMs = series.atMs[i] as number;
        return true;
      });
      const pick = (of: Float64Array): Float64Array => Float64Array.from(kept, (i) => of[i] as number);
      return { atMs: pick(series.atMs), value: pick(series.value) };
    };
    const series = Object.fromEntries(
      Object.entries(input.series).map(([name, one]) => [
        name,
        name === 'rainMm' ? one : thin(one as Series),
      ]),
    );
    return { ...input, series };
  };

export const resolutionG =
  (stepG: number) =>
  (input: AnalysisInput): AnalysisInput => {
    const { atMs, value } = input.series.weightG as Series;
    return withWeight(input, { atMs, value: value.map((g) => Math.round(g / stepG) * stepG) });
  };

/** A weight put on or taken off at an hour after the move, logged as a visit (or a feed) or not at all. */
export const jump =
  (hours: number, sizeG: number, logged?: KnownEvent['kind']) =>
  (input: AnalysisInput, { movedAtMs }: DriftTruth): AnalysisInput => {
    const at = movedAtMs + hours * hourMs;
    const { atMs, value } = input.series.weightG as Series;
    const stepped = withWeight(input, {
      atMs,
      value: value.map((g, i) => ((atMs[i] as number) > at ? g + sizeG : g)),
    });
    return logged ? { ...stepped, events: [...input.events, { atMs: at, kind: logged }] } : stepped;
  };
